// The sentences of page one, short enough to be read in a kitchen.
//
// The page answers ten questions: is it safe, is it finished, what was wrong and put right, what
// must I never do, how hot may it be, whom do I call, when is care due, until when is the warranty,
// what exactly is fitted, is this paper genuine. Its prose and the meanings of its trade words have
// at most most_prose_words together; names, dates, figures and the crew's own words are a table.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "handover/report_input.hpp"

namespace wm::handover {

inline constexpr int most_prose_words = 150;
/// Of other languages: the same sentences take up to a quarter more words.
inline constexpr int most_translated_words = 190;
inline constexpr int most_sentence_words = 20;
inline constexpr int most_restriction_words = 16;
inline constexpr int most_done_words = 12;
inline constexpr std::size_t most_corrections_shown = 3;
inline constexpr std::size_t most_unproven_shown = 3;
inline constexpr std::size_t most_checks_shown = 2;
inline constexpr std::size_t most_restrictions_shown = 2;

/// How bad it is not to listen: death, possible death, possible injury, damage to things.
/// Source: signal words of ANSI Z535.6 (from memory).
enum class Signal { Danger, Warning, Caution, Notice };

/// "DANGER", "WARNING", "CAUTION", "NOTICE".
[[nodiscard]] std::string_view in_words(Signal signal);
/// In the customer's language: "GEFAHR".
[[nodiscard]] std::string in_words(Signal signal, const language::Language& say);

struct SafetySentence {
    Signal signal = Signal::Notice;
    std::string words;  ///< one or two sentences, without the signal word
};

/// A failed check as page one shows it.
struct ShownCorrection {
    std::string title;
    std::string done;  ///< the crew's words, at most most_done_words; or what became of it
};

/// All words of page one that this room chooses.
struct PageOneWords {
    std::string headline;              ///< "Handed over in full", "Handed over, with checks left"
    std::vector<std::string> outcome;  ///< safe? finished? then the restrictions
    /// "Not done yet: Fall protection; 2 more.": titles of the checklist; mostly empty.
    std::string unproven;
    std::vector<std::string> hot_water;
    std::vector<SafetySentence> never;  ///< the worst first
    std::vector<std::string> checking;  ///< how to check this paper
    /// Which language counts; empty where the customer's is the company's.
    std::vector<std::string> which_counts;
    std::string note;                   ///< the first question that the record leaves; mostly empty
    std::vector<CareDate> care;  ///< all care, and the next most_checks_shown deferred checks
    std::vector<ShownCorrection> corrections;  ///< the worst first
    std::size_t more_corrections = 0;          ///< those left to a later page
    std::vector<GlossaryTerm> terms;  ///< trade words of the page, but those that `fitted` explains
};

/// Chooses the sentences from the state and what is fitted. Restrictions and crew's words that are
/// too long are cut with "…"; a later page has them in full. A correction whose trade words cannot
/// be explained any more within the words of the page is left to that later page.
[[nodiscard]] PageOneWords page_one_words(const ReportInput& input);

/// One failure for each check, in order of their first ones: an open one before all, else the last.
/// What was taken back as a slip is left out: nothing was wrong.
[[nodiscard]] std::vector<Nonconformity> one_for_each_check(const std::vector<Nonconformity>& all);

/// What nobody who lives with this set may do, the worst first: the same words on every paper of that language. A kind that nobody stated
/// gets the sentence that is right for both.
[[nodiscard]] std::vector<SafetySentence> never_sentences(const figures::PlantShape& plant, const language::Language& say);

/// The first `most` words, as counted below, with "…" where there are more.
[[nodiscard]] std::string cut_to(std::string_view text, int most);

/// Words of a text, as counted for the limits above: what stands between white space and holds a
/// letter or digit.
[[nodiscard]] int count_words(std::string_view text);

}  // namespace wm::handover
