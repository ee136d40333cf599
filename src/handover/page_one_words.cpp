#include "handover/page_one_words.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "handover/plain_words.hpp"

namespace wm::handover {

using language::filled;
using language::Language;
using language::marked;

namespace {

bool holds_letter_or_digit(std::string_view word) {
    return std::any_of(word.begin(), word.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ||
               (c >= 'A' && c <= 'Z');
    });
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t start = text.find_first_not_of(" \t\r\n", at);
        if (start == std::string_view::npos) break;
        const std::size_t end = std::min(text.find_first_of(" \t\r\n", start), text.size());
        const std::string_view word = text.substr(start, end - start);
        if (holds_letter_or_digit(word)) words.push_back(word);
        at = end;
    }
    return words;
}

std::string headline_of(const PageOne& page, const Language& say) {
    const bool draft = page.issue == Issue::Draft;
    switch (page.state) {
        case HandoverState::Full:
            // A head that says all is well over "Not quite" would be believed.
            if (!page.unproven.empty()) return draft ? say.text("Not handed over yet: checks are left") : say.text("Handed over, with checks left");
            return draft ? say.text("Not handed over yet: in full once signed") : say.text("Handed over in full");
        case HandoverState::Restricted:
            return draft ? say.text("Not handed over yet: with a restriction") : say.text("Handed over with a restriction");
        case HandoverState::Practice:
            return say.text("Practice paper: nothing was fitted");
        case HandoverState::NotHandedOver:
            return draft ? say.text("Not handed over yet") : say.text("Not handed over");
    }
    return {};
}

std::string undone_in_words(std::size_t count, const Language& say) {
    const auto number = static_cast<long>(count);
    return filled(say.counted("{n} check is not done yet.", "{n} checks are not done yet.", number),
                  {{"n", std::to_string(count)}});
}

std::string unproven_in_words(std::size_t count, const Language& say) {
    const auto number = static_cast<long>(count);
    return filled(say.counted("{n} safety check is not done yet.", "{n} safety checks are not done yet.", number),
                  {{"n", std::to_string(count)}});
}

/// Of a full handover. Nothing is called ready while a check that guards people is not done.
std::string finished_of(const PageOne& page, std::size_t later, const Language& say) {
    if (!page.unproven.empty()) return say.text("Is it finished? Not quite.");
    if (later > 0) return say.text("Is it finished? You can use it.") + " " + undone_in_words(later, say);
    return page.issue == Issue::Draft ? say.text("Is it finished? Yes, once it is signed.")
                                      : say.text("Is it finished? Yes. It is ready to use.");
}

std::vector<std::string> outcome_of(const ReportInput& input) {
    const PageOne& page = input.page_one;
    const Language& say = input.language;
    const std::size_t later = input.deferrals.size();
    std::vector<std::string> sentences;
    switch (page.state) {
        case HandoverState::Full:
            if (page.unproven.empty()) {
                sentences.push_back(say.text("Is it safe? Yes. It passed every safety check."));
            } else {
                sentences.push_back(say.text("Is it safe? Not all is checked yet.") + " " +
                                    unproven_in_words(page.unproven.size(), say));
            }
            sentences.push_back(finished_of(page, later, say));
            break;
        case HandoverState::Restricted:
            sentences = {say.text("Is it safe? Only if you keep to this list.")};
            sentences.push_back(say.text("Is it finished? No.") + " " +
                                undone_in_words(std::max<std::size_t>(later, 1), say));
            break;
        case HandoverState::Practice:
            sentences = {say.text("Is it safe? This paper cannot tell. It was made to learn the tool."),
                         say.text("Is it finished? Nothing was fitted and nothing was tested.")};
            break;
        case HandoverState::NotHandedOver:
            sentences = {say.text("Is it safe? Not proven. Do not use it."),
                         say.text("Is it finished? No. The crew must come again.")};
            break;
    }
    const std::size_t shown = std::min(page.restrictions.size(), most_restrictions_shown);
    for (std::size_t i = 0; i < shown; ++i) {
        sentences.push_back(cut_to(page.restrictions[i], say.is_english() ? most_restriction_words : most_sentence_words));
    }
    return sentences;
}

std::vector<std::string> hot_water_of(const PageOne& page, const Language& say) {
    if (page.state == HandoverState::NotHandedOver) return {say.text("Take no hot water yet.")};
    if (page.state == HandoverState::Practice) return {say.text("No tap was measured for this paper.")};
    if (page.hottest_tap.empty()) {
        return {say.text("Nobody has measured the taps yet."), say.text("Do not wash with hot water until then.")};
    }
    return {filled(say.text("The hottest washing tap gave {temperature}."), {{"temperature", say.amount(page.hottest_tap)}}),
            filled(say.text("More than {temperature} is not allowed."), {{"temperature", say.amount(page.hottest_allowed)}}),
            say.text("Feel the water before a child bathes.")};
}

int count_words(const std::vector<std::string>& sentences) {
    int words = 0;
    for (const std::string& sentence : sentences) words += handover::count_words(sentence);
    return words;
}

int prose_so_far(const PageOneWords& words) {
    int count = handover::count_words(words.headline) + count_words(words.outcome) +
                count_words(words.hot_water) + count_words(words.checking) +
                handover::count_words(words.note);
    for (const SafetySentence& sentence : words.never) {
        count += 1 + handover::count_words(sentence.words);
    }
    return count;
}

/// Explains the trade words of texts within what is left of the words of the page.
class Explaining {
public:
    Explaining(const PageOne& page, int words_left, const Language& say) : words_left_{words_left}, say_{say} {
        for (const LabelledLine& line : page.fitted) {
            for (const GlossaryTerm& term : trade_words_in(line.label)) known_.insert(term.word);
        }
    }
    /// False, and nothing is changed, if the words do not suffice.
    bool take(std::string_view text) {
        std::vector<GlossaryTerm> fresh;
        int cost = 0;
        for (GlossaryTerm& term : trade_words_in(text, say_)) {
            if (known_.contains(term.word)) continue;
            cost += handover::count_words(term.word) + handover::count_words(term.meaning);
            fresh.push_back(std::move(term));
        }
        if (cost > words_left_) return false;
        words_left_ -= cost;
        for (GlossaryTerm& term : fresh) {
            known_.insert(term.word);
            terms_.push_back(std::move(term));
        }
        return true;
    }
    [[nodiscard]] std::vector<GlossaryTerm> terms() && { return std::move(terms_); }

private:
    std::set<std::string> known_;
    std::vector<GlossaryTerm> terms_;
    int words_left_;
    const Language& say_;
};

/// Names as many as the page can explain, at most three, and counts the others.
std::string unproven_of(const PageOne& page, Explaining& explaining, const Language& say) {
    if (page.unproven.empty() || page.state == HandoverState::Practice) return {};
    std::string named;
    std::size_t shown = 0;
    for (const std::string& title : page.unproven) {
        if (shown == most_unproven_shown) break;
        if (!explaining.take(title)) continue;
        named += (shown++ == 0 ? "" : "; ") + title;
    }
    const std::size_t more = page.unproven.size() - shown;
    if (more > 0)
        named += (shown == 0 ? "" : "; ") + filled(say.counted("{n} more", "{n} more", static_cast<long>(more)), {{"n", std::to_string(more)}});
    return filled(say.text("Not done yet: {checks}."), {{"checks", named}});
}

std::vector<CareDate> care_of(const PageOne& page, Explaining& explaining) {
    std::vector<CareDate> care;
    std::size_t checks = 0;
    for (CareDate date : page.care) {
        if (!date.check_id.empty() && ++checks > most_checks_shown) continue;
        if (!explaining.take(date.what)) date.what = date.what.substr(0, date.what.find(':'));
        care.push_back(std::move(date));
    }
    return care;
}

int rank_of(const std::string& severity) {
    const auto place = std::string_view{"HDPR"}.find(severity.empty() ? 'R' : severity.front());
    return static_cast<int>(place);
}

/// What became of a failed check, where the crew says nothing of a correction.
std::string without_correction(const Nonconformity& item, const ReportInput& input) {
    const Language& say = input.language;
    for (const ReportDeferral& later : input.deferrals) {
        if (later.check_id == item.check_id)
            return filled(say.text("to be checked again by {day}"), {{"day", say.date(later.until)}});
    }
    for (const ReportConcession& leave : input.concessions) {
        if (leave.check_id == item.check_id) return say.text("accepted as it is");
    }
    return say.text("still open");
}

void choose_corrections(PageOneWords& words, const ReportInput& input, Explaining& explaining) {
    auto worst_first = one_for_each_check(input.nonconformities);
    std::stable_sort(worst_first.begin(), worst_first.end(), [](const auto& a, const auto& b) {
        return std::pair{!a.done.empty(), rank_of(a.severity)} <
               std::pair{!b.done.empty(), rank_of(b.severity)};
    });
    for (const Nonconformity& item : worst_first) {
        if (words.corrections.size() == most_corrections_shown) break;
        const std::string done = item.done.empty() ? without_correction(item, input)
                                                   : cut_to(item.done, most_done_words);
        if (explaining.take(item.title + ". " + done)) {
            words.corrections.push_back({item.title, done});
        } else if (!item.proving.empty() && explaining.take(item.title)) {
            words.corrections.push_back({item.title, input.language.text("put right")});
        }
    }
    words.more_corrections = worst_first.size() - words.corrections.size();
}

}  // namespace

std::string_view in_words(HandoverState state) {
    switch (state) {
        case HandoverState::Full:
            return "full";
        case HandoverState::Restricted:
            return "restricted";
        case HandoverState::Practice:
            return "practice";
        case HandoverState::NotHandedOver:
            return "not handed over";
    }
    return "";
}

std::string_view in_words(Signal signal) {
    switch (signal) {
        case Signal::Danger:
            return marked("DANGER");
        case Signal::Warning:
            return marked("WARNING");
        case Signal::Caution:
            return marked("CAUTION");
        case Signal::Notice:
            return marked("NOTICE");
    }
    return "";
}

std::string in_words(Signal signal, const Language& say) { return say.text(in_words(signal).data()); }

PageOneWords page_one_words(const ReportInput& input) {
    const PageOne& page = input.page_one;
    const Language& say = input.language;
    PageOneWords words;
    words.headline = headline_of(page, say);
    words.outcome = outcome_of(input);
    words.hot_water = hot_water_of(page, say);
    words.never = never_sentences(input.plant, say);
    words.checking = {say.text("A PDF reader must show a valid seal with the number below."),
                      say.text("The square code proves a print.")};
    constexpr const char* english_counts = marked("The pages in English are the evidence. Where this page differs, the English counts.");
    if (!say.is_english()) words.which_counts = {say.text(english_counts), english_counts};
    if (!page.questions.empty()) words.note = cut_to(page.questions.front(), most_done_words);
    const int most = say.is_english() ? most_prose_words : most_translated_words;
    Explaining explaining{page, most - prose_so_far(words), say};
    for (const SafetySentence& sentence : words.never) explaining.take(sentence.words);
    for (const LabelledLine& line : page.fitted) explaining.take(line.text);
    words.unproven = unproven_of(page, explaining, say);
    words.care = care_of(page, explaining);
    choose_corrections(words, input, explaining);
    words.terms = std::move(explaining).terms();
    return words;
}

std::vector<Nonconformity> one_for_each_check(const std::vector<Nonconformity>& all) {
    std::vector<Nonconformity> kept;
    for (const Nonconformity& item : all) {
        if (item.withdrawn) continue;
        const auto same = std::find_if(kept.begin(), kept.end(), [&](const Nonconformity& other) {
            return other.check_id == item.check_id;
        });
        if (same == kept.end()) kept.push_back(item);
        else if (!same->done.empty()) *same = item;
    }
    return kept;
}

std::vector<SafetySentence> never_sentences(const figures::PlantShape& plant, const Language& say) {
    std::vector<SafetySentence> all;
    all.push_back({Signal::Danger, say.text("Never go on the roof or open the heater. It can kill.")});
    if (!plant.feed) {
        // Nobody has stated which of the two lets the pressure out, so neither may be shut.
        all.push_back({Signal::Warning, say.text("Never block a safety pipe or close an open pipe.")});
    } else if (plant.feed == figures::FeedKind::Mains) {
        all.push_back(
            {Signal::Warning, say.text("Never block the safety pipe. It can spit boiling water.")});
    } else {
        all.push_back({Signal::Warning, say.text("Never close the open pipe. The tank could burst.")});
    }
    all.push_back(
        {Signal::Warning, filled(say.text("Never set the heater below {temperature}. Germs grow in lukewarm water."),
                                 {{"temperature", say.amount("60 °C")}})});
    if (!plant.loop) {
        all.push_back({Signal::Warning, say.text("Never refill or empty the collector yourself. Ask us before frost.")});
    } else if (plant.loop == figures::LoopKind::Indirect) {
        all.push_back({Signal::Warning, say.text("Never refill the loop yourself. Car antifreeze is poison.")});
    } else {
        all.push_back({Signal::Notice, say.text("Never leave the collector full in frost. Ask us to empty it.")});
    }
    return all;
}

std::string cut_to(std::string_view text, int most) {
    const auto words = words_of(text);
    if (static_cast<int>(words.size()) <= most) return std::string{text};
    const std::string_view last = words[static_cast<std::size_t>(most) - 1];
    const auto length = static_cast<std::size_t>(last.data() + last.size() - text.data());
    return std::string{text.substr(0, length)} + "…";
}

int count_words(std::string_view text) {
    return static_cast<int>(words_of(text).size());
}

}  // namespace wm::handover
