#include "desk/devices.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/permission.hpp"
#include "digest/company.hpp"
#include "digest/hash.hpp"
#include "record/chain.hpp"

namespace wm::desk {

namespace {

using record::DeviceStarted;

constexpr std::string_view accepted = "accepted";

/// Signed by the company of this folder. A company is made at the first start of a folder, so another's word says nothing here.
bool is_signed_here(const DeviceStarted& started, const std::string& root_certificate) {
    const auto root = digest::from_hex(started.root_certificate), key = digest::from_hex(started.public_key),
               signature = digest::from_hex(started.company_signature);
    if (root_certificate.empty() || !root || !key || !signature || *root != root_certificate) return false;
    return digest::is_signed_by_company(*root, record::device_claim(started.device, *key), *signature);
}

Result<std::vector<DeviceView>> look_at_devices(const store::Journal& journal) {
    const auto stream = journal.read_stream();
    if (!stream) return tl::unexpected(stream.error());
    const auto heads = journal.heads();
    if (!heads) return tl::unexpected(heads.error());
    return devices_of(stream->entries, *heads, looking_from(journal));
}

std::string short_name(const std::string& device) { return device.substr(0, 8); }

}  // namespace

LookingDevice looking_from(const store::Journal& journal) {
    const auto& company = journal.keys().company();
    return {journal.device(), company ? company->root_certificate : std::string{}};
}

std::vector<DeviceView> devices_of(const std::vector<record::Written>& stream, const std::vector<record::Head>& heads,
                                   const LookingDevice& looking) {
    std::map<std::string, DeviceView, std::less<>> all;
    std::map<std::string, std::string, std::less<>> came_from;
    for (const auto& head : heads) {
        auto& view = all[head.device];
        view.device = head.device;
        view.entries = std::max(view.entries, head.seq);
    }
    for (const auto& [entry, hash] : stream) {
        const auto* started = std::get_if<DeviceStarted>(&entry.body);
        if (started == nullptr) continue;
        auto& view = all[started->device];
        view.device = started->device;
        view.since = entry.time.substr(0, 10);
        if (is_signed_here(*started, looking.root_certificate)) view.standing = DeviceStanding::Ours;
        came_from[started->device] = started->predecessor;
    }
    // Only what this device says of its past counts: any other could name one of ours.
    std::set<std::string> past;
    for (std::string device = looking.device; !device.empty() && past.insert(device).second;) {
        if (const auto found = all.find(device); found != all.end())
            found->second.standing = device == looking.device ? DeviceStanding::ThisOne : DeviceStanding::Ours;
        const auto before = came_from.find(device);
        device = before == came_from.end() ? std::string{} : before->second;
    }
    for (const auto& [entry, hash] : stream) {
        const auto* judged = std::get_if<record::DeviceJudged>(&entry.body);
        if (judged == nullptr) continue;
        const auto writer = all.find(entry.device), meant = all.find(judged->device);
        if (writer == all.end() || !is_ours(writer->second.standing) || meant == all.end()) continue;
        auto& view = meant->second;
        if (view.standing == DeviceStanding::ThisOne || view.standing == DeviceStanding::Ours) continue;
        view.standing = judged->word == accepted ? DeviceStanding::Accepted : DeviceStanding::Refused;
        view.by = judged->by ? record::shown(*judged->by) : "";
    }
    std::vector<DeviceView> views;
    for (auto& [device, view] : all) views.push_back(std::move(view));
    return views;
}

std::string_view in_words(DeviceStanding standing) {
    switch (standing) {
        case DeviceStanding::ThisOne: return "this device";
        case DeviceStanding::Ours: return "ours";
        case DeviceStanding::Accepted: return "accepted";
        case DeviceStanding::Refused: return "refused";
        case DeviceStanding::Unknown: return "known to nobody";
    }
    return "";
}

bool is_ours(DeviceStanding standing) { return standing != DeviceStanding::Unknown && standing != DeviceStanding::Refused; }

Result<std::vector<DeviceView>> devices(Desk& desk) { return look_at_devices(desk.journal()); }

Result<DeviceStanding> Desk::standing_of(const std::string& device) {
    if (device == journal_.device()) return DeviceStanding::ThisOne;
    if (standings_version_ != journal_.version() || !standings_.contains(device)) {
        const auto all = look_at_devices(journal_);
        if (!all) return tl::unexpected(all.error());
        standings_.clear();
        for (const auto& view : *all) standings_.emplace(view.device, view.standing);
        standings_version_ = journal_.version();
    }
    const auto found = standings_.find(device);
    return found == standings_.end() ? DeviceStanding::Unknown : found->second;
}

void Desk::forget_standings() { standings_version_.reset(); }

Result<std::string> judge_device(Desk& desk, const std::string& device, DeviceWord word) {
    const std::string_view act = word == DeviceWord::Accepted ? "accept a device" : "refuse a device";
    if (auto fine = may(desk.setup(), store::Role::Lead, act); !fine) return tl::unexpected(fine.error());
    const auto all = devices(desk);
    if (!all) return tl::unexpected(all.error());
    std::vector<const DeviceView*> meant;
    for (const auto& view : *all)
        if (view.device == device || (device.size() >= 8 && view.device.starts_with(device))) meant.push_back(&view);
    if (meant.size() != 1)
        return refused({fmt::format("{} device here is called \"{}\".", meant.empty() ? "No" : "More than one", device), "device",
                        "Write its id as witnessmark device list shows it.", ProblemKind::Unreadable});
    const auto standing = meant.front()->standing;
    if (standing == DeviceStanding::ThisOne || standing == DeviceStanding::Ours)
        return refused({fmt::format("Device {} is {}; there is nothing to decide.", short_name(meant.front()->device),
                                    standing == DeviceStanding::ThisOne ? "this one" : "one of ours"),
                        "device", "Name one that came by bundle: witnessmark device list.", ProblemKind::Refused});
    record::DeviceJudged judged{meant.front()->device, word == DeviceWord::Accepted ? std::string{accepted} : "refused", std::nullopt};
    if (desk.setup().person) {
        auto by = desk.journal().said_by_house(desk.setup().person->name);
        if (!by) return tl::unexpected(by.error());
        judged.by = std::move(*by);
    }
    const auto written = desk.journal().append({.wall_ms = desk.setup().now().wall_ms, .customer = "", .drafts = {{"", std::move(judged)}}});
    if (!written) return tl::unexpected(written.error());
    desk.forget_standings();
    return meant.front()->device;
}

Result<std::vector<std::string>> words_on_strangers(Desk& desk, const record::JobState& job) {
    std::vector<std::string> sentences;
    for (const auto& device : job.devices) {
        const auto standing = desk.standing_of(device);
        if (!standing) return tl::unexpected(standing.error());
        if (*standing == DeviceStanding::Unknown)
            sentences.push_back(fmt::format("Device {} wrote into this job, and nobody has accepted it as one of ours.", short_name(device)));
        if (*standing == DeviceStanding::Refused)
            sentences.push_back(fmt::format("Device {} wrote into this job, and it was refused as none of ours.", short_name(device)));
    }
    return sentences;
}

void DeviceWork::add(const record::Entry& entry, const std::string& first_day, const std::string& last_day) {
    const std::string day = entry.time.substr(0, 10);
    if (entry.job.empty() || day < first_day || day > last_day) return;
    ++entries;
    jobs.insert(entry.job);
}

Result<DeviceWork> work_of(const store::Journal& journal, const std::string& device, const std::string& first_day, const std::string& last_day) {
    const auto chain = journal.read_chain(device, 1);
    if (!chain) return tl::unexpected(chain.error());
    DeviceWork work;
    for (const auto& [entry, hash] : chain->entries) work.add(entry, first_day, last_day);
    return work;
}

Result<std::vector<WeekQuestionView>> device_questions(const std::vector<DeviceView>& devices, const WorkOfDevice& work) {
    std::vector<WeekQuestionView> questions;
    for (const auto& view : devices) {
        if (is_ours(view.standing)) continue;
        const auto done = work(view.device);
        if (!done) return tl::unexpected(done.error());
        if (done->entries == 0) continue;
        const bool is_refused = view.standing == DeviceStanding::Refused;
        questions.push_back({.kind = "device", .subject = view.device, .check = "",
                             .sentence = fmt::format("Device {} wrote {} entries of this week, and {}. They are counted like all others.",
                                                     short_name(view.device), done->entries,
                                                     is_refused ? "was refused as none of ours" : "nobody has accepted it as one of ours"),
                             .what_to_do = is_refused ? "Look at these jobs again: what it wrote is no evidence."
                                                      : fmt::format("Ask whose it is, then say so: witnessmark device accept {}, or refuse.",
                                                                    short_name(view.device)),
                             .jobs = {done->jobs.begin(), done->jobs.end()}});
    }
    return questions;
}

}  // namespace wm::desk
