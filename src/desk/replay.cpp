#include "desk/replay.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <memory>
#include <set>

#include "checklist/loader.hpp"
#include "desk/judged.hpp"
#include "desk/view_parts.hpp"
#include "store/pins.hpp"

namespace wm::desk {

namespace {

using checklist::Item;

// What a person reads and no outcome depends on.
constexpr std::array<std::string_view, 11> wording = {"title", "question", "why", "how", "pitfall", "on_fail",
                                                      "example", "source", "stage", "caution", "evidence"};
constexpr std::array<std::string_view, 4> apart = {"check", "checklist", "stage", "example_facts"};
constexpr std::array<std::string_view, 4> of_the_version = {"version", "reason", "title", "date"};

template <std::size_t N>
bool is_one_of(std::string_view key, const std::array<std::string_view, N>& keys) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
}

bool same(const Item& a, const Item& b);

// Whether both tables hold the same under every key but those passed over.
template <std::size_t N>
bool same_but(const Item& a, const Item& b, const std::array<std::string_view, N>& passed_over) {
    const auto covered = [&](const Item& one, const Item& other) {
        return std::all_of(one.entries.begin(), one.entries.end(), [&](const auto& entry) {
            if (is_one_of(entry.first, passed_over)) return true;
            const auto* there = other.find(entry.first);
            return there != nullptr && same(entry.second, *there);
        });
    };
    return covered(a, b) && covered(b, a);
}

bool same(const Item& a, const Item& b) {
    if (a.type != b.type || a.text != b.text || a.yes != b.yes || a.items.size() != b.items.size()) return false;
    if (!same_but(a, b, std::array<std::string_view, 1>{""})) return false;
    return std::equal(a.items.begin(), a.items.end(), b.items.begin(), same);
}

const Item* check_in(const Item& list, std::string_view id) {
    const auto* checks = list.find("check");
    if (checks == nullptr) return nullptr;
    for (const auto& check : checks->items)
        if (const auto* named = check.find("id"); named != nullptr && named->text == id) return &check;
    return nullptr;
}

/// The changed list in the surroundings that a job pins.
struct Changed {
    std::shared_ptr<const checklist::Library> library;
    const checklist::Checklist* list = nullptr;
    std::set<std::string, std::less<>> checks;
};

class Replayer {
public:
    Replayer(Desk& desk, std::string file, const std::string& text, Item document, ReplayView& view)
        : desk_{desk}, file_{std::move(file)}, text_{text}, document_{std::move(document)}, view_{view} {}

    Result<void> job(const std::string& number) {
        auto hand = desk_.in_hand(number);
        // A job that cannot be read is named by attest; it has no reading to judge.
        if (!hand || hand->state().opened->checklist != view_.checklist || hand->state().opened->practice) return {};
        const auto changed = changed_for(hand->state().opened->checklist_hash);
        if (!changed) return tl::unexpected(changed.error());
        JobInHand after = *hand;
        after.library = (*changed)->library;
        after.list = (*changed)->list;
        days_.clear();
        for (const auto& [id, check] : hand->state().checks) replay_check(**changed, after, id, check);
        return {};
    }

    void finish() {
        const auto share = [&](std::int64_t failed) {
            return view_.results > 0 ? static_cast<double>(failed) / static_cast<double>(view_.results) : 0.0;
        };
        view_.share_before = share(failed_before_);
        view_.share_after = share(failed_after_);
        view_.changed.assign(changed_.begin(), changed_.end());
        view_.dropped.assign(dropped_.begin(), dropped_.end());
    }

private:
    Result<const Changed*> changed_for(const std::string& pin) {
        if (const auto found = by_pin_.find(pin); found != by_pin_.end()) return &found->second;
        const auto pinned = store::read_pin(desk_.setup().data, pin);
        if (!pinned) return tl::unexpected(pinned.error());
        auto texts = texts_of_pin(*pinned);
        if (!texts) return tl::unexpected(texts.error());
        const auto before = checklist::read_document((*texts)[file_], file_);
        if (!before) return tl::unexpected(before.error());
        (*texts)[file_] = text_;
        auto library = read_library(*texts);
        if (!library) return tl::unexpected(library.error());
        Changed changed;
        changed.library = std::move(*library);
        changed.list = changed.library->checklist_named(view_.checklist);
        for (auto& id : changed_checks(*before, document_)) {
            changed.checks.insert(id);
            changed_.insert(std::move(id));
        }
        return &by_pin_.emplace(pin, std::move(changed)).first->second;
    }

    // As of the day of a reading: an instrument that has fallen due since was in date then.
    Assessment& on_day(const JobInHand& after, const std::string& day) {
        auto& [job, assessment] = days_[day];
        if (!assessment) {
            job = after;
            job.today = day;
            assessment = std::make_unique<Assessment>(job);
        }
        return *assessment;
    }

    void replay_check(const Changed& changed, const JobInHand& after, const std::string& id, const record::CheckState& state) {
        const auto* check = changed.list == nullptr ? nullptr : changed.list->find(checklist::CheckId{id});
        const bool again = check != nullptr && changed.checks.contains(id);
        for (const auto& reading : state.readings) {
            if (reading.undone_by || is_set_aside(reading)) continue;
            ++view_.results;
            const auto was = reading.judged().place_outcome;
            failed_before_ += was == Outcome::DoesNotConform ? 1 : 0;
            if (check == nullptr) dropped_.insert(id);
            auto would_be = was;
            if (again) would_be = judged_again(after, *check, reading, was);
            failed_after_ += would_be == Outcome::DoesNotConform ? 1 : 0;
        }
    }

    Outcome judged_again(const JobInHand& after, const checklist::Check& check, const record::Reading& reading, Outcome was) {
        ++view_.judged_again;
        auto& assessment = on_day(after, day_of(reading.taken.read_at));
        const checklist::ReadingInput input{.place = reading.taken.place,
                                            .text = record::shown(reading.taken.text),
                                            .instrument = instrument_for(after, "", reading.taken.instrument),
                                            .photo = reading.taken.photos.empty() ? checklist::PhotoState::Missing
                                                                                  : checklist::PhotoState::Attached};
        const auto judged = checklist::judge_reading(check, input, assessment.context());
        const auto would_be = judged ? judged->outcome : Outcome::Open;
        if (would_be != was)
            view_.flips.push_back({after.state().number, check.id.text, reading.taken.place, reading.origin.entry,
                                   std::string{measure::in_words(was)}, std::string{measure::in_words(would_be)},
                                   judged ? judged->why : judged.error().what});
        return would_be;
    }

    Desk& desk_;
    std::string file_;
    const std::string& text_;
    Item document_;
    ReplayView& view_;
    std::map<std::string, Changed> by_pin_;
    std::map<std::string, std::pair<JobInHand, std::unique_ptr<Assessment>>> days_;
    std::set<std::string> changed_, dropped_;
    std::int64_t failed_before_ = 0, failed_after_ = 0;
};

}  // namespace

std::vector<std::string> changed_checks(const Item& before, const Item& after) {
    std::vector<std::string> changed;
    const auto* checks = after.find("check");
    if (checks == nullptr) return changed;
    const auto* head = after.find("checklist");
    const auto* head_before = before.find("checklist");
    const bool same_head = head != nullptr && head_before != nullptr ? same_but(*head_before, *head, of_the_version) : head == head_before;
    const bool all = !same_head || !same_but(before, after, apart);
    for (const auto& check : checks->items) {
        const auto* id = check.find("id");
        if (id == nullptr) continue;
        const auto* was = check_in(before, id->text);
        if (all || was == nullptr || !same_but(*was, check, wording)) changed.push_back(id->text);
    }
    return changed;
}

Result<ReplayView> replay(Desk& desk, const std::string& text, std::string_view name) {
    const auto list = checklist::load_checklist(text, std::string{name});
    if (!list) return tl::unexpected(list.error());
    auto document = checklist::read_document(text, name);
    if (!document) return tl::unexpected(document.error());
    ReplayView view;
    view.checklist = list->name;
    Replayer replayer{desk, list->name + ".toml", text, std::move(*document), view};
    const auto jobs = desk.journal().jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    for (const auto& line : *jobs)
        if (auto done = replayer.job(line.job); !done) return tl::unexpected(done.error());
    replayer.finish();
    return view;
}

}  // namespace wm::desk
