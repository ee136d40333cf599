#include "desk/desk.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/owner.hpp"
#include "desk/permission.hpp"
#include "digest/hash.hpp"
#include "store/pins.hpp"

namespace wm::desk {

namespace {

Problem no_such_job(const std::string& job) {
    return {fmt::format("There is no job \"{}\".", job), "the journal", "Look for its number in the list of jobs (witnessmark job list).",
            ProblemKind::Unreadable};
}

}  // namespace

Result<Desk> Desk::open(Setup setup) {
    auto library = read_library(setup.library);
    if (!library) return tl::unexpected(library.error());
    store::Opening opening{.folder = setup.data,
                           .random = setup.random,
                           .wall_ms = setup.now().wall_ms,
                           .company = setup.company,
                           .since_boot = setup.since_boot,
                           .time_source = setup.time_source,
                           .vfs = "",
                           .disk = setup.disk,
                           .sealing_key = setup.sealing_key,
                           .backups = setup.backups,
                           .patience_ms = setup.patience_ms,
                           .file = {}};
    auto journal = setup.access == Access::Write ? store::Journal::open_to_write(std::move(opening))
                                                 : store::Journal::open_to_read(std::move(opening));
    if (!journal) return tl::unexpected(journal.error());
    return Desk{std::move(setup), std::move(*journal), std::move(*library)};
}

Result<void> Desk::use_lists(LibraryTexts texts) {
    auto library = read_library(texts);
    if (!library) return tl::unexpected(library.error());
    library_ = std::move(*library);
    setup_.library = std::move(texts);
    // A pin that was the list of before is read from its own file from now on.
    pinned_.clear();
    return {};
}

Result<std::shared_ptr<const checklist::Library>> Desk::library_of(const std::string& pin) {
    if (const auto found = pinned_.find(pin); found != pinned_.end()) return found->second;
    // What is here only because the program ships it would be gone with the next release of it. If it cannot be kept now,
    // the next look does it.
    const auto keep_for_later = [&](const std::string& list) {
        if (setup_.access != Access::Write) return;
        if (const auto here = store::has_pin(setup_.data, pin, journal_.disk()); here && !*here)
            static_cast<void>(store::keep_pin(setup_.data, list, journal_.disk()));
    };
    // A job that came in a bundle may pin what this program ships as well.
    for (const auto& list : library_->checklists)
        if (const auto ours = pin_text(setup_.library, list.name); ours && digest::sha256_hex(*ours) == pin) {
            keep_for_later(*ours);
            return pinned_[pin] = library_;
        }
    // Bundles once carried no lists: what jobs were opened with in an earlier release, that release shipped.
    const auto shipped = setup_.library.find("pins/" + pin);
    const bool is_shipped = shipped != setup_.library.end() && digest::sha256_hex(shipped->second) == pin;
    if (is_shipped) keep_for_later(shipped->second);
    const auto text = is_shipped ? Result<std::string>{shipped->second} : store::read_pin(setup_.data, pin, journal_.disk());
    if (!text) return tl::unexpected(text.error());
    const auto texts = texts_of_pin(*text);
    if (!texts) return tl::unexpected(texts.error());
    auto library = read_library(*texts);
    if (!library) return tl::unexpected(library.error());
    pinned_[pin] = *library;
    return *library;
}

Result<std::shared_ptr<const record::JobState>> Desk::state_of(const std::string& job) {
    // What was told of clocks with another job concerns this one too.
    if (journal_.told_of_clocks() != told_of_clocks_) states_.clear();
    told_of_clocks_ = journal_.told_of_clocks();
    if (const auto found = states_.find(job); found != states_.end()) return found->second;
    auto entries = journal_.read_job(job);
    if (!entries) return tl::unexpected(entries.error());
    auto state = record::folded(job, entries->entries);
    if (!entries->damaged.empty()) damaged_[job] = std::move(entries->damaged);
    if (!state.opened) return refused(no_such_job(job));
    return states_[job] = std::make_shared<record::JobState>(std::move(state));
}

Result<JobInHand> Desk::in_hand(const std::string& job) {
    const auto state = state_of(job);
    if (!state) return tl::unexpected(state.error());
    JobInHand hand;
    hand.folded = *state;
    if (const auto found = damaged_.find(job); found != damaged_.end()) hand.damaged = found->second;
    auto library = library_of(hand.state().opened->checklist_hash);
    if (!library) return tl::unexpected(library.error());
    hand.library = std::move(*library);
    hand.list = hand.library->checklist_named(hand.state().opened->checklist);
    if (hand.list == nullptr)
        return refused({"The pinned texts hold no checklist of that name.", "job " + job,
                        "Restore the data folder from a backup.", ProblemKind::Unreadable});
    // A finished job stands as it was handed over: a licence that runs out later changes nothing in it.
    const auto& handover = hand.state().handover;
    const auto handed_at = handover ? record::stamp_of(handover->origin.time) : std::nullopt;
    hand.today = day_of(handed_at ? Moment{handed_at->wall_ms, setup_.now().zone_minutes} : setup_.now());
    auto& read = facts_[job];
    if (!read) read = facts_read(hand.state());
    hand.read = read;
    if (!hand.state().opened->after_job.empty())
        if (auto earlier = in_hand(hand.state().opened->after_job))
            hand.earlier = std::make_shared<const JobInHand>(std::move(*earlier));
    return hand;
}

Result<std::vector<record::Written>> Desk::append(JobInHand& job, std::vector<record::Draft> drafts) {
    const std::string number = job.state().number;
    if (!job.damaged.empty())
        return refused({fmt::format("Nothing is written into this job: {} of its entries cannot be read ({}).",
                                    job.damaged.size(), job.damaged.front()),
                        "job " + number,
                        "Take the entries from another device's bundle or from a backup; witnessmark attest --journal "
                        "names all of them.",
                        ProblemKind::NotStored});
    if (auto fine = may_say(setup_, drafts); !fine) return tl::unexpected(fine.error());
    if (auto fine = may_write_into(setup_, job.state(), drafts); !fine) return tl::unexpected(fine.error());
    const bool moves_facts = !std::all_of(drafts.begin(), drafts.end(), [](const record::Draft& draft) {
        return std::holds_alternative<record::ReadingTaken>(draft.body) ||
               std::holds_alternative<record::FaultCorrected>(draft.body);
    });
    const record::Head before = journal_.head();
    auto written = journal_.append({.wall_ms = setup_.now().wall_ms,
                                    .customer = job.state().opened ? job.state().opened->customer : "",
                                    .drafts = std::move(drafts)});
    if (!written) {
        // What was not stored must not be shown; the next look reads the journal again.
        forget(number);
        return written;
    }
    note_written(number, before.hash);
    if (journal_.head().seq != before.seq + static_cast<std::int64_t>(written->size())) {
        // Something was told of the clock before: it concerns every job.
        states_.clear();
        const auto again = state_of(number);
        if (!again) return tl::unexpected(again.error());
        job.folded = *again;
        if (moves_facts) job.read = facts_[number] = facts_read(**again);
        return written;
    }
    auto& kept = states_[number];
    if (!kept) kept = std::make_shared<record::JobState>(*job.folded);
    job.folded.reset();
    // Whoever else holds the state keeps it as it was; mostly nobody does, and nothing is copied.
    if (kept.use_count() > 1) kept = std::make_shared<record::JobState>(*kept);
    for (const auto& entry : *written) record::fold_in(*kept, entry);
    job.folded = kept;
    if (moves_facts) job.read = facts_[number] = facts_read(*kept);
    return written;
}

void Desk::note_written(const std::string& job, const std::string& head_before) {
    touched_.insert(job);
    // Only a head that moved by our own doing may pass unseen.
    if (listed_after_ == head_before) listed_after_ = journal_.head().hash;
}

void Desk::forget(const std::string& job) {
    states_.erase(job);
    facts_.erase(job);
}

Result<void> Desk::record_try(const std::string& job, record::MessageTried tried) {
    auto hand = in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto written = append(*hand, {{job, std::move(tried)}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<void> Desk::erase_customer(const std::string& job) {
    if (auto fine = may(setup_, store::Role::Lead, "erase a customer"); !fine) return fine;
    const auto state = state_of(job);
    if (!state) return tl::unexpected(state.error());
    const std::string customer = (*state)->opened->customer;
    if (auto kept = keep_owners(*this, customer); !kept) return kept;
    auto erased = journal_.erase_customer(customer, setup_.now().wall_ms);
    // The states at hand still hold the words.
    states_.clear();
    facts_.clear();
    listed_.clear();
    listed_version_.reset();
    return erased;
}

std::vector<std::string> Desk::damaged() const {
    std::vector<std::string> all;
    for (const auto& [job, sentences] : damaged_)
        for (const auto& sentence : sentences) all.push_back(fmt::format("Job {}: {}", job, sentence));
    return all;
}

Result<std::vector<record::JobState>> Desk::all_states() {
    auto jobs = journal_.jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    std::vector<record::JobState> states;
    for (const auto& line : *jobs) {
        const auto state = state_of(line.job);
        if (state) states.push_back(**state);
        // A disk that fails is no reason to leave a job out of the week or its mail unsent.
        else if (state.error().kind == ProblemKind::NotStored) return tl::unexpected(state.error());
    }
    return states;
}

}  // namespace wm::desk
