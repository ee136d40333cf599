// What the report may never hide and never claim, over journals nobody thought of.
#include <cstdlib>

#include "desk/paper_journal.hpp"
#include "handover/page_one_words.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

namespace wm::desk {

using testing::Chance;
using testing::PaperJournal;

namespace {

/// WM_JOURNALS=10000 for the long run of scripts/soak.
std::size_t journals_to_try() {
    const char* asked = std::getenv("WM_JOURNALS");
    return asked == nullptr ? 60 : static_cast<std::size_t>(std::strtoul(asked, nullptr, 10));
}

std::string without_spaces(const std::string& text) {
    std::string solid;
    for (const char c : text)
        if (c != ' ' && c != '\n') solid += c;
    return solid;
}

/// The words of some pages run together, so that a line break in the middle of them does not matter.
std::string printed(const handover::testing::RecordedBook& book, std::size_t from, std::size_t to) {
    std::string words;
    for (std::size_t page = from; page < to && page < book.leaves.size(); ++page) words += book.words_of_page(page);
    return without_spaces(words);
}

/// What the entries say of a check, told without the fold: readings in order, undone ones left out.
struct Told {
    std::map<std::string, Outcome> last;  ///< by place
    bool failed = false;
};

std::map<std::string, Told> told_by(const std::vector<record::Written>& entries) {
    std::map<std::string, bool> gone;
    for (auto at = entries.rbegin(); at != entries.rend(); ++at)
        if (const auto* undone = std::get_if<record::Undone>(&at->entry.body))
            if (!gone[at->hash]) gone[undone->entry] = true;
    std::map<std::string, Told> told;
    for (const auto& written : entries) {
        const auto* taken = std::get_if<record::ReadingTaken>(&written.entry.body);
        if (const auto* corrected = std::get_if<record::FaultCorrected>(&written.entry.body)) taken = &corrected->reading;
        if (taken == nullptr) continue;
        auto& check = told[taken->check];
        if (gone[written.hash]) continue;
        if (taken->judged.place_outcome == Outcome::DoesNotConform ||
            taken->judged.whole_outcome == Outcome::DoesNotConform)
            check.failed = true;
        check.last[taken->place] = taken->judged.place_outcome;
    }
    return told;
}

std::vector<const record::ReadingTaken*> failed_readings(const std::vector<record::Written>& entries) {
    std::vector<const record::ReadingTaken*> failed;
    for (const auto& written : entries) {
        const auto* taken = std::get_if<record::ReadingTaken>(&written.entry.body);
        if (const auto* corrected = std::get_if<record::FaultCorrected>(&written.entry.body)) taken = &corrected->reading;
        if (taken != nullptr && (taken->judged.place_outcome == Outcome::DoesNotConform ||
                                 taken->judged.whole_outcome == Outcome::DoesNotConform))
            failed.push_back(taken);
    }
    return failed;
}

PaperJournal random_journal(std::uint64_t seed) {
    static const std::vector<std::string> lists = {"commissioning", "commissioning", "service", "kit", "survey"};
    Chance chance{seed};
    PaperJournal journal{testing::random_facts(chance), chance.of(lists)};
    const std::size_t actions = 1 + chance.below(40);
    for (std::size_t i = 0; i < actions; ++i) testing::act(journal, chance);
    return journal;
}

void check_nothing_hidden(const PaperJournal& journal, const handover::testing::RecordedBook& book,
                          std::size_t found_page) {
    const std::string pages = printed(book, found_page, book.leaves.size());
    for (const auto* reading : failed_readings(journal.entries())) {
        CAPTURE(reading->check);
        CAPTURE(reading->place);
        const auto* check = journal.hand().list->find(checklist::CheckId{reading->check});
        REQUIRE(check != nullptr);
        std::string line = record::shown(reading->text);
        if (!reading->place.empty()) line += ", " + reading->place;
        CHECK(pages.find(without_spaces(check->title + reading->check)) != std::string::npos);
        CHECK(pages.find(without_spaces(line)) != std::string::npos);
    }
}

void check_nothing_claimed(const PaperJournal& journal, const handover::ReportInput& input) {
    const auto told = told_by(journal.entries());
    bool all_safe = true;
    for (const auto& stage : input.stages) {
        for (const auto& shown : stage.checks) {
            const auto* check = journal.hand().list->find(checklist::CheckId{shown.id});
            REQUIRE(check != nullptr);
            const bool is_read = check->kind != checklist::Kind::Computed && check->kind != checklist::Kind::Signature;
            const auto found = told.find(shown.id);
            const bool has_reading = found != told.end() && !found->second.last.empty();
            bool all_right = has_reading;
            if (has_reading)
                for (const auto& [place, outcome] : found->second.last) all_right = all_right && outcome == Outcome::Conforms;
            if (shown.severity == "H" && shown.outcome != Outcome::NotApplicable && is_read && !all_right) all_safe = false;
            if (!is_read || shown.outcome != Outcome::Conforms) continue;
            CAPTURE(shown.id);
            CHECK(all_right);
            CHECK(shown.corrected == found->second.failed);
        }
    }
    const auto words = handover::page_one_words(input);
    const bool says_safe = words.outcome.front().find("It passed every safety check") != std::string::npos;
    if (says_safe) CHECK(all_safe);
}

}  // namespace

TEST_CASE("every failed reading of a journal is on its report, and nothing conforms without a reading that does") {
    std::size_t failures = 0;
    for (std::size_t seed = 1; seed <= journals_to_try(); ++seed) {
        CAPTURE(seed);
        const PaperJournal journal = random_journal(seed);
        const auto input = journal.report();
        handover::testing::RecordedBook book;
        REQUIRE(handover::pour_report(book, input));
        check_nothing_hidden(journal, book, 1);
        check_nothing_claimed(journal, input);
        failures += failed_readings(journal.entries()).size();
    }
    // A run without failures would prove nothing.
    CHECK(failures > journals_to_try());
}

}  // namespace wm::desk
