#include "desk/replay.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <memory>
#include <set>
#include <unordered_map>

#include "audit/shares.hpp"
#include "checklist/differences.hpp"
#include "checklist/loader.hpp"
#include "desk/judged.hpp"
#include "desk/view_parts.hpp"
#include "store/pins.hpp"

namespace wm::desk {

namespace {

using checklist::Item;

constexpr std::array<std::string_view, 4> apart = {"check", "checklist", "stage", "example_facts"};
constexpr std::array<std::string_view, 4> of_the_version = {"version", "reason", "title", "date"};

template <std::size_t N>
bool is_one_of(std::string_view key, const std::array<std::string_view, N>& keys) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
}

bool same(const Item& a, const Item& b);

// Whether both tables hold the same under every key but those passed over.
template <class PassedOver>
bool same_but(const Item& a, const Item& b, PassedOver passed_over) {
    const auto covered = [&](const Item& one, const Item& other) {
        return std::all_of(one.entries.begin(), one.entries.end(), [&](const auto& entry) {
            if (passed_over(entry.first)) return true;
            const auto* there = other.find(entry.first);
            return there != nullptr && same(entry.second, *there);
        });
    };
    return covered(a, b) && covered(b, a);
}

bool same(const Item& a, const Item& b) {
    if (a.type != b.type || a.text != b.text || a.yes != b.yes || a.items.size() != b.items.size()) return false;
    if (!same_but(a, b, [](std::string_view) { return false; })) return false;
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

/// A changed list seen from the readings under one pin: what is to be done with each check.
struct Asked {
    enum class What : std::uint8_t { Count, Drop, JudgeAgain };
    const Changed* changed = nullptr;
    std::vector<What> what;                        ///< by the number of the check
    std::vector<const checklist::Check*> checks;   ///< likewise; nullptr where the list has none
};

/// Facts and instruments of past jobs: each text is read once, however many houses share it.
class FactsKept {
public:
    using Stated = std::vector<std::pair<audit::Code, audit::Code>>;  ///< keys and values
    explicit FactsKept(const audit::Names& texts) : texts_{texts} {}

    /// Valid until asked for another job. What neighbours share is left as it stands.
    [[nodiscard]] const checklist::Facts& of(const Stated& stated) {
        const bool goes_on = all_readable_ && std::equal(stated.begin(), stated.end(), stated_.begin(), stated_.end(),
                                                         [](const auto& a, const auto& b) { return a.first == b.first; });
        if (!goes_on || !set_where(stated, [&](std::size_t i) { return stated[i] != stated_[i]; })) {
            // Where a text cannot be read the value of the house before must not stay.
            facts_ = {};
            all_readable_ = set_where(stated, [](std::size_t) { return true; });
        }
        stated_ = stated;
        return facts_;
    }
    [[nodiscard]] const std::optional<checklist::InstrumentInUse>& instrument(audit::Code card) {
        if (const auto known = instruments_.find(card); known != instruments_.end()) return known->second;
        std::optional<checklist::InstrumentInUse> read;
        if (!texts_.text(card).empty()) {
            record::JobState state;
            const auto registered = card_of(texts_.text(card));
            state.instruments.emplace(registered.id, registered);
            read = facts_read(state)->instruments.front();
        }
        return instruments_.emplace(card, std::move(read)).first->second;
    }

private:
    // Whether all of them could be read.
    template <class Wanted>
    bool set_where(const Stated& stated, Wanted wanted) {
        bool all = true;
        for (std::size_t i = 0; i < stated.size(); ++i) {
            if (!wanted(i)) continue;
            const auto [key, value] = stated[i];
            const auto at = (static_cast<std::uint64_t>(key) << 32U) | value;
            auto known = values_.find(at);
            if (known == values_.end()) {
                auto read = checklist::read_fact(texts_.text(key), texts_.text(value));
                known = values_.emplace(at, read ? std::optional{std::move(*read)} : std::nullopt).first;
            }
            if (known->second) facts_.set(*known->second);
            all = all && known->second.has_value();
        }
        return all;
    }

    const audit::Names& texts_;
    Stated stated_;
    checklist::Facts facts_;  ///< of `stated_`
    bool all_readable_ = true;
    std::unordered_map<std::uint64_t, std::optional<checklist::FactValue>> values_;
    std::unordered_map<audit::Code, std::optional<checklist::InstrumentInUse>> instruments_;
};

ReplayShare share_of(std::int64_t failed, std::int64_t results) {
    ReplayShare share{.failed = failed, .results = results};
    if (const auto interval = audit::wilson({failed, results})) {
        share.low = interval->low;
        share.high = interval->high;
    }
    return share;
}

class Replayer {
    /// Readings of one check, and how many of them do not conform.
    struct Count {
        std::int64_t results = 0, before = 0, after = 0;
    };

public:
    Replayer(Desk& desk, const audit::PastReadings& past, std::string file, const std::string& text, Item document, ReplayView& view)
        : desk_{desk}, past_{past}, file_{std::move(file)}, text_{text}, document_{std::move(document)}, view_{view}, kept_{past.texts()} {}

    Result<void> job(std::size_t job) {
        if (past_.practice(job) || past_.checklist(job) != view_.checklist) return {};
        const auto asked = asked_of(past_.pin(job));
        if (!asked) return tl::unexpected(asked.error());
        facts_ = nullptr;
        folded_.reset();
        days_.clear();
        const auto range = past_.readings_of(job);
        view_.results += static_cast<std::int64_t>(range.last - range.first);
        for (auto row = range.first; row < range.last; ++row) {
            const auto check = past_.check(row);
            const auto was = past_.was(row);
            auto would_be = was;
            if ((*asked)->what[check] == Asked::What::Drop) dropped_.insert(past_.checks().text(check));
            if ((*asked)->what[check] == Asked::What::JudgeAgain) {
                auto judged = judged_again(**asked, job, row);
                if (!judged) return tl::unexpected(judged.error());
                would_be = *judged;
            }
            if (counts_.size() <= check) counts_.resize(past_.checks().size());
            ++counts_[check].results;
            counts_[check].before += was == Outcome::DoesNotConform ? 1 : 0;
            counts_[check].after += would_be == Outcome::DoesNotConform ? 1 : 0;
        }
        return {};
    }

    void finish() {
        Count all;
        for (const auto& count : counts_) {
            all.results += count.results;
            all.before += count.before;
            all.after += count.after;
        }
        view_.before = share_of(all.before, all.results);
        view_.after = share_of(all.after, all.results);
        view_.share_before = view_.before.share();
        view_.share_after = view_.after.share();
        for (const auto& id : changed_) {
            const auto code = past_.checks().find(id);
            const auto count = code && *code < counts_.size() ? counts_[*code] : Count{};
            view_.by_check.push_back({id, share_of(count.before, count.results), share_of(count.after, count.results)});
        }
        view_.changed.assign(changed_.begin(), changed_.end());
        view_.dropped.assign(dropped_.begin(), dropped_.end());
    }

    /// Rows of the flips, in their order.
    [[nodiscard]] const std::vector<std::size_t>& flipped() const { return flipped_; }

private:
    Result<const Asked*> asked_of(const std::string& pin) {
        if (const auto found = by_pin_.find(pin); found != by_pin_.end()) return &found->second.second;
        const auto pinned = store::read_pin(desk_.setup().data, pin);
        if (!pinned) return tl::unexpected(pinned.error());
        auto texts = texts_of_pin(*pinned);
        if (!texts) return tl::unexpected(texts.error());
        const auto before = checklist::read_document((*texts)[file_], file_);
        if (!before) return tl::unexpected(before.error());
        (*texts)[file_] = text_;
        auto library = read_library(*texts);
        if (!library) return tl::unexpected(library.error());
        auto& [changed, asked] = by_pin_[pin];
        changed.library = std::move(*library);
        changed.list = changed.library->checklist_named(view_.checklist);
        for (auto& id : changed_checks(*before, document_)) {
            changed.checks.insert(id);
            changed_.insert(std::move(id));
        }
        asked.changed = &changed;
        for (audit::Code code = 0; code < past_.checks().size(); ++code) {
            const auto& id = past_.checks().text(code);
            const auto* check = changed.list == nullptr ? nullptr : changed.list->find(checklist::CheckId{id});
            asked.checks.push_back(check);
            asked.what.push_back(check == nullptr ? Asked::What::Drop : changed.checks.contains(id) ? Asked::What::JudgeAgain : Asked::What::Count);
        }
        return &asked;
    }

    // As of the day of a reading: an instrument that has fallen due since was in date then.
    Result<Assessment*> on_day(const Changed& changed, std::size_t job, const std::string& day) {
        if (!folded_) {
            auto hand = desk_.in_hand(past_.number(job));
            if (!hand) return tl::unexpected(hand.error());
            folded_ = std::move(*hand);
            folded_->library = changed.library;
            folded_->list = changed.list;
        }
        auto& [in_hand, assessment] = days_[day];
        if (!assessment) {
            in_hand = *folded_;
            in_hand.today = day;
            assessment = std::make_unique<Assessment>(in_hand);
        }
        return assessment.get();
    }

    // With the facts alone where the check asks for nothing else; a check that asks for other checks is
    // judged in its whole job.
    Result<Outcome> judged_again(const Asked& asked, std::size_t job, std::size_t row) {
        ++view_.judged_again;
        const auto& check = *asked.checks[past_.check(row)];
        const checklist::ReadingInput input{.place = past_.place(row),
                                            .text = past_.text(row),
                                            .instrument = kept_.instrument(past_.instrument(row)),
                                            .photo = past_.photo(row) ? checklist::PhotoState::Attached : checklist::PhotoState::Missing};
        if (facts_ == nullptr) facts_ = &kept_.of(past_.facts(job));
        const auto day = audit::day_text(past_.day(row));
        bool asks_others = false;
        const auto noted = [&](const auto& nothing) { return [&asks_others, nothing](const checklist::CheckId&) { asks_others = true; return nothing; }; };
        const checklist::Context alone{.facts = *facts_,
                                       .library = *asked.changed->library,
                                       .today = day,
                                       .outcome_of = noted(std::optional<Outcome>{}),
                                       .answer_of = noted(std::optional<std::string>{}),
                                       .value_of = noted(std::optional<units::Amount>{}),
                                       .earlier_value_of = noted(std::optional<units::Amount>{})};
        auto judged = checklist::judge_reading(check, input, alone);
        if (asks_others) {
            const auto whole = on_day(*asked.changed, job, day);
            if (!whole) return tl::unexpected(whole.error());
            judged = checklist::judge_reading(check, input, (*whole)->context());
        }
        const auto was = past_.was(row);
        const auto would_be = judged ? judged->outcome : Outcome::Open;
        if (would_be != was) {
            view_.flips.push_back({past_.number(job), check.id.text, past_.place(row), "", std::string{measure::in_words(was)},
                                   std::string{measure::in_words(would_be)}, judged ? judged->why : judged.error().what});
            flipped_.push_back(row);
        }
        return would_be;
    }

    Desk& desk_;
    const audit::PastReadings& past_;
    std::string file_;
    const std::string& text_;
    Item document_;
    ReplayView& view_;
    FactsKept kept_;
    std::map<std::string, std::pair<Changed, Asked>> by_pin_;
    const checklist::Facts* facts_ = nullptr;  ///< of the job at hand, once needed
    std::optional<JobInHand> folded_;        ///< likewise
    std::map<std::string, std::pair<JobInHand, std::unique_ptr<Assessment>>> days_;
    std::set<std::string> changed_, dropped_;
    std::vector<std::size_t> flipped_;
    std::vector<Count> counts_;  ///< by the number of the check
};

}  // namespace

std::vector<std::string> changed_checks(const Item& before, const Item& after) {
    std::vector<std::string> changed;
    const auto* checks = after.find("check");
    if (checks == nullptr) return changed;
    const auto* head = after.find("checklist");
    const auto* head_before = before.find("checklist");
    const bool same_head = head != nullptr && head_before != nullptr ? same_but(*head_before, *head, [](std::string_view key) { return is_one_of(key, of_the_version); }) : head == head_before;
    const bool all = !same_head || !same_but(before, after, [](std::string_view key) { return is_one_of(key, apart); });
    for (const auto& check : checks->items) {
        const auto* id = check.find("id");
        if (id == nullptr) continue;
        const auto* was = check_in(before, id->text);
        if (all || was == nullptr || !same_but(*was, check, checklist::is_wording)) changed.push_back(id->text);
    }
    return changed;
}

Result<ReplayView> replay(Desk& desk, audit::PastReadings& past, const std::string& text, std::string_view name) {
    const auto list = checklist::load_checklist(text, std::string{name});
    if (!list) return tl::unexpected(list.error());
    auto document = checklist::read_document(text, name);
    if (!document) return tl::unexpected(document.error());
    ReplayView view;
    view.checklist = list->name;
    Replayer replayer{desk, past, list->name + ".toml", text, std::move(*document), view};
    for (std::size_t job = 0; job < past.job_count(); ++job)
        if (auto done = replayer.job(job); !done) return tl::unexpected(done.error());
    replayer.finish();
    if (view.flips.empty()) return view;
    if (auto there = with_entries(desk, past); !there) return tl::unexpected(there.error());
    for (std::size_t flip = 0; flip < view.flips.size(); ++flip) view.flips[flip].entry = past.entry(replayer.flipped()[flip]);
    return view;
}

Result<ReplayView> replay(Desk& desk, const std::string& text, std::string_view name) {
    auto past = past_readings(desk);
    if (!past) return tl::unexpected(past.error());
    return replay(desk, past->readings, text, name);
}

}  // namespace wm::desk
