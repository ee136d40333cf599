#include <algorithm>

#include "drawing/recorded.hpp"
#include "drawing/text_block.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/sign.hpp"
#include "handover/page_one_words.hpp"
#include "handover/report_pages.hpp"
#include "handover/square_code.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;
using language::filled;
using language::Language;

namespace {

constexpr double margin_mm = 15.0;
constexpr double foot_mm = 16.0;
constexpr double code_mm = 50.0;
constexpr std::size_t most_fitted_shown = 8;
constexpr std::size_t most_dates_shown = 6;

measure::Outcome mark_of(const PageOne& page) {
    if (page.issue == Issue::Draft) return measure::Outcome::Open;
    switch (page.state) {
        case HandoverState::Full:
            // No tick beside a safety check that nobody has done.
            return page.unproven.empty() ? measure::Outcome::Conforms : measure::Outcome::Deferred;
        case HandoverState::Restricted:
            return measure::Outcome::Deferred;
        case HandoverState::Practice:
            return measure::Outcome::NotApplicable;
        case HandoverState::NotHandedOver:
            return measure::Outcome::DoesNotConform;
    }
    return measure::Outcome::Open;
}

/// Writes downward in one column; letters are scaled by `factor`.
class ColumnPen {
public:
    ColumnPen(Canvas& on, Box column, double factor, const Language& say)
        : on_{on}, column_{column}, factor_{factor}, y_{column.top}, say_{say} {}

    [[nodiscard]] const Language& say() const { return say_; }

    [[nodiscard]] double y() const { return y_; }
    void gap(double mm) { y_ += mm * factor_; }

    void title(const std::string& words) {
        gap(3.4);
        const TextStyle style = sized(3.3, Weight::Bold, Ink::Accent);
        write(words, style, column_.left, column_.width, 2);
        on_.line({column_.left, y_ - 0.2}, {column_.right(), y_ - 0.2}, {Ink::Hairline, 0.2});
        gap(0.7);
    }
    void sentences(const std::vector<std::string>& all) {
        std::string words;
        for (const std::string& sentence : all) words += (words.empty() ? "" : " ") + sentence;
        write(words, sized(3.5, Weight::Regular, Ink::Text), column_.left, column_.width, 12);
    }
    /// The signal word in a column of its own, after the triangle where somebody can be hurt.
    void warning(const SafetySentence& sentence) {
        const TextStyle style = sized(3.4, Weight::Regular, Ink::Text);
        const TextStyle signal = sized(2.9, Weight::Bold, Ink::Text);
        const double base = y_ + style.size_mm;
        const double foot = base + 0.1 * style.size_mm;
        const double side = 3.2 * factor_;
        if (sentence.signal != Signal::Notice) {
            const Point corners[] = {{column_.left, foot},
                                     {column_.left + side, foot},
                                     {column_.left + side / 2.0, foot - 0.9 * side}};
            on_.fill(corners, Ink::Text);
            const TagScope sign{on_, Role::Artifact};
            on_.text({column_.left + side / 2.0, foot - 0.12 * side}, "!",
                     {0.66 * side, Weight::Bold, Ink::Paper, Anchor::Middle});
        }
        const std::string word = in_words(sentence.signal, say_);
        on_.text({column_.left + 1.25 * side, base}, word, signal);
        // All signal words of a language in one column, as wide as the longest of them.
        double longest = 18.4 * factor_;
        for (const Signal each : {Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice})
            longest = std::max(longest, on_.text_width(in_words(each, say_), signal) + 1.6 * factor_);
        const double indent = 1.25 * side + longest;
        write(sentence.words, style, column_.left + indent, column_.width - indent, 3);
        gap(0.5);
    }
    void pair(const std::string& label, const std::string& words, double label_mm, int most_lines) {
        const double from = y_;
        label_mm *= factor_;
        write(label, sized(3.0, Weight::Regular, Ink::Faint), column_.left, label_mm - 1.5, 2);
        const double label_end = y_;
        y_ = from;
        write(words, sized(3.2, Weight::Regular, Ink::Text), column_.left + label_mm,
              column_.width - label_mm, most_lines);
        y_ = std::max(y_, label_end);
        gap(0.3);
    }
    /// Width of labels in millimetres before scaling, so that none of these days wraps; at least `least_mm`.
    [[nodiscard]] double width_for(const std::vector<CareDate>& dates, double least_mm) const {
        const TextStyle style{3.0, Weight::Regular, Ink::Faint, Anchor::Start};
        for (const CareDate& date : dates) least_mm = std::max(least_mm, on_.text_width(say_.date(date.date), style) + 2.0);
        return least_mm;
    }
    void line(const std::string& words, Weight weight, Ink ink, int most_lines) {
        write(words, sized(3.1, weight, ink), column_.left, column_.width, most_lines);
    }
    void mono(const std::string& words) {
        write(words, sized(2.55, Weight::Mono, Ink::Text), column_.left, column_.width, 6);
    }

private:
    [[nodiscard]] TextStyle sized(double size_mm, Weight weight, Ink ink) const {
        return {size_mm * factor_, weight, ink, Anchor::Start};
    }
    void write(const std::string& words, const TextStyle& style, double left, double width,
               int most_lines) {
        auto lines = drawing::wrapped(on_, words, style, width);
        const auto most = static_cast<std::size_t>(most_lines);
        if (lines.size() > most) {
            lines.resize(most);
            lines.back() = drawing::fitted(on_, lines.back() + " …………", style, width);
        }
        for (const std::string& text : lines) {
            on_.text({left, y_ + style.size_mm}, text, style);
            y_ += 1.3 * style.size_mm;
        }
    }

    Canvas& on_;
    Box column_;
    double factor_;
    double y_;
    const Language& say_;
};

/// Company, job and date; gives the line below.
double draw_letterhead(Canvas& on, const ReportInput& input, Box sheet) {
    const double left = sheet.left + margin_mm;
    const double right = sheet.right() - margin_mm;
    figures::draw_sign(on, {left + 4.6, 18.0}, 7.6);
    const TextStyle company{4.4, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle small{3.0, Weight::Regular, Ink::Faint, Anchor::Start};
    TextStyle small_right = small;
    small_right.anchor = Anchor::End;
    const double half = (right - left) / 2.0 - 4.0;
    on.text({left + 12.0, 17.2}, drawing::fitted(on, input.company, company, half + 10.0), company);
    on.text({left + 12.0, 22.0}, drawing::fitted(on, input.language.text(input.title.c_str()), small, half + 10.0), small);
    on.text({right, 17.2}, drawing::fitted(on, filled(input.language.text("job {job}"), {{"job", input.job}}), small_right, half - 24.0),
            small_right);
    on.text({right, 22.0}, drawing::fitted(on, input.language.date(input.date), small_right, half - 24.0), small_right);
    return 27.5;
}

double draw_banner(Canvas& on, const ReportInput& input, const PageOneWords& words, Box area) {
    const TextStyle head{7.2, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle body{3.9, Weight::Regular, Ink::Text, Anchor::Start};
    const TextStyle place{3.3, Weight::Regular, Ink::Faint, Anchor::Start};
    std::string prose;
    // Each answer and each restriction begins a line of its own.
    for (const std::string& answer : words.outcome) {
        prose += (prose.empty() ? "" : "\n") + answer;
        // What is not done belongs to the first answer, is it safe.
        if (&answer == &words.outcome.front() && !words.unproven.empty()) prose += "\n" + words.unproven;
    }
    const double text_left = area.left + 22.0;
    const double width = area.width - 26.0;
    const auto lines = drawing::wrapped(on, prose, body, width);
    const double height = 22.5 + drawing::leading_mm(body) * static_cast<double>(lines.size());
    const Box banner{area.left, area.top, area.width, height};
    on.fill_box(banner, 2.0, Ink::Tint);
    on.stroke_box(banner, 2.0, {figures::ink_of(mark_of(input.page_one)), 0.6});
    figures::draw_outcome_mark(on, mark_of(input.page_one),
                               {area.left + 11.5, area.top + height / 2.0}, 13.0);
    on.text({text_left, area.top + 6.0}, drawing::fitted(on, input.place, place, width), place);
    // English heads fit; a translated one that is longer is written smaller.
    TextStyle fitting = head;
    while (fitting.size_mm > 4.6 && on.text_width(words.headline, fitting) > width) fitting.size_mm -= 0.2;
    on.text({text_left, area.top + 14.6}, words.headline, fitting);
    drawing::draw_lines(on, {text_left, area.top + 21.2}, lines, body);
    return banner.bottom();
}

/// Four digits to a group, so that two people can compare them on the telephone.
std::string grouped(const std::string& digits) {
    std::string text;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && i % 4 == 0) text += ' ';
        text += digits[i];
    }
    return text;
}

void draw_checking(ColumnPen& pen, const PageOne& page, const PageOneWords& words) {
    pen.title(pen.say().text("Is this paper genuine?"));
    pen.sentences(words.checking);
    pen.gap(1.0);
    const std::string published = page.fingerprint_published;
    pen.line(published.empty() ? pen.say().text("number of the company")
                               : filled(pen.say().text("published: {place}"), {{"place", published}}),
             Weight::Regular, Ink::Faint, 2);
    pen.mono(grouped(page.fingerprint));
}

void draw_found(ColumnPen& pen, const ReportInput& input, const PageOneWords& words,
                int more_on_page) {
    const Language& say = input.language;
    pen.title(say.text("What was wrong and put right?"));
    if (words.corrections.empty() && words.more_corrections == 0) {
        pen.line(say.text("Nothing was found wrong."), Weight::Regular, Ink::Text, 1);
    }
    for (const ShownCorrection& item : words.corrections) {
        pen.line(item.title, Weight::Bold, Ink::Text, 2);
        pen.line(item.done, Weight::Regular, Ink::Text, 2);
        pen.gap(0.5);
    }
    if (words.more_corrections > 0) {
        const auto number = static_cast<long>(words.more_corrections);
        pen.line(filled(words.corrections.empty() ? say.counted("{n} on page {page}", "{n} on page {page}", number)
                                                  : say.counted("{n} more on page {page}", "{n} more on page {page}", number),
                        {{"n", std::to_string(number)}, {"page", std::to_string(more_on_page)}}),
                 Weight::Bold, Ink::Text, 1);
    }
    if (const std::size_t limits = input.page_one.restrictions.size();
        limits > most_restrictions_shown) {
        const auto more = static_cast<long>(limits - most_restrictions_shown);
        pen.line(filled(say.counted("{n} more restriction on page {page}", "{n} more restrictions on page {page}", more),
                        {{"n", std::to_string(more)}, {"page", std::to_string(more_on_page)}}),
                 Weight::Bold, Ink::Text, 1);
    }
    if (!words.note.empty()) pen.line(filled(say.text("Note: {note}"), {{"note", words.note}}), Weight::Regular, Ink::Faint, 2);
}

void draw_left(ColumnPen& pen, const ReportInput& input, const PageOneWords& words,
               int more_on_page) {
    const Language& say = input.language;
    pen.title(say.text("What must you never do?"));
    for (const SafetySentence& sentence : words.never) pen.warning(sentence);
    pen.title(say.text("How hot may the water be?"));
    pen.sentences(words.hot_water);
    pen.title(say.text("What exactly is fitted?"));
    for (std::size_t i = 0; i < std::min(input.page_one.fitted.size(), most_fitted_shown); ++i) {
        pen.pair(input.page_one.fitted[i].label, input.page_one.fitted[i].text, 27.0, 2);
    }
    draw_found(pen, input, words, more_on_page);
    draw_checking(pen, input.page_one, words);
    if (words.which_counts.empty()) return;
    pen.title(say.text("Which language counts?"));
    for (const std::string& sentence : words.which_counts) pen.line(sentence, Weight::Regular, Ink::Text, 3);
}

void draw_right(ColumnPen& pen, const ReportInput& input, const PageOneWords& words) {
    const PageOne& page = input.page_one;
    const Language& say = input.language;
    pen.title(say.text("Whom do you call?"));
    for (std::size_t i = 0; i < std::min<std::size_t>(page.call.size(), 4); ++i) {
        pen.line(page.call[i].label, Weight::Regular, Ink::Faint, 1);
        pen.line(page.call[i].text, Weight::Bold, Ink::Text, 2);
        pen.gap(0.4);
    }
    pen.title(say.text("When is care due?"));
    const double date_mm = pen.width_for(words.care, 20.0);
    for (std::size_t i = 0; i < std::min(words.care.size(), most_dates_shown); ++i) {
        pen.pair(say.date(words.care[i].date), words.care[i].what, date_mm, 3);
    }
    pen.title(say.text("Until when is the warranty?"));
    if (page.warranty.empty()) {
        pen.line(say.text("Not on record: ask the company."), Weight::Regular, Ink::Text, 2);
    }
    for (std::size_t i = 0; i < std::min<std::size_t>(page.warranty.size(), 3); ++i) {
        pen.pair(page.warranty[i].label, page.warranty[i].text, 25.0, 2);
    }
    if (words.terms.empty()) return;
    pen.title(say.text("Words on this page"));
    for (const GlossaryTerm& term : words.terms) pen.pair(term.word, term.meaning, 25.0, say.is_english() ? 2 : 3);
}

/// Where the columns end, and the place of the square code.
struct Laid {
    double lowest = 0.0;
    Box square;
};

/// Draws all but the square code with letters of this size.
Laid draw_at(Canvas& on, const ReportInput& input, int more_on_page, double factor) {
    const Box sheet = sheet_of(input.paper);
    const PageOneWords words = page_one_words(input);
    const double width = sheet.width - 2.0 * margin_mm;
    const double top = draw_letterhead(on, input, sheet);
    const double below = draw_banner(on, input, words, {margin_mm, top, width, 0.0});
    const double right_width = 62.0;
    const double left_width = width - right_width - 8.0;
    const double right_left = margin_mm + left_width + 8.0;
    const Box square{right_left + (right_width - code_mm) / 2.0, below + 2.5, code_mm, code_mm};
    if (!input.page_one.paper_proof.empty())
        on.text({square.middle().x, square.bottom() + 2.2}, input.language.text("the facts of this page, signed"),
                {2.5, Weight::Regular, Ink::Faint, Anchor::Middle});
    ColumnPen left{on, {margin_mm, below, left_width, 0.0}, factor, input.language};
    draw_left(left, input, words, more_on_page);
    ColumnPen right{on, {right_left, square.bottom() + 2.0, right_width, 0.0}, factor, input.language};
    draw_right(right, input, words);
    return {std::max(left.y(), right.y()), square};
}

}  // namespace

Result<void> draw_page_one(Canvas& on, const ReportInput& input, int more_on_page) {
    const double lowest = sheet_of(input.paper).height - foot_mm;
    double factor = 1.2;
    for (; factor > 0.66; factor -= 0.04) {
        drawing::RecordedCanvas trial;
        if (draw_at(trial, input, more_on_page, factor).lowest <= lowest) break;
    }
    const Laid laid = draw_at(on, input, more_on_page, factor);
    // Without keys of a company nothing vouches for the facts, and a code would only seem to.
    if (input.page_one.paper_proof.empty()) return {};
    const TagScope code{on, Role::Figure, input.language.text("Square code that holds the facts of this page, signed")};
    return draw_square_code(on, laid.square, input.page_one.paper_proof);
}

}  // namespace wm::handover
