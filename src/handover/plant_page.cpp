#include <fmt/format.h>

#include <algorithm>

#include "drawing/text_block.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/plant_figure.hpp"
#include "handover/report_pages.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;
using measure::Outcome;

namespace {

struct ListedCheck {
    int number;
    const ReportCheck* check;
};

std::vector<ListedCheck> listed(const ReportInput& input) {
    std::vector<ListedCheck> all;
    for (const ReportStage& stage : input.stages) {
        for (const ReportCheck& check : stage.checks) {
            all.push_back({static_cast<int>(all.size()) + 1, &check});
        }
    }
    return all;
}

void draw_key_of_marks(Canvas& on, Box row) {
    const TextStyle style{letters::small, Weight::Regular, Ink::Text, Anchor::Start};
    double x = row.left;
    for (const Outcome outcome : {Outcome::Conforms, Outcome::DoesNotConform, Outcome::Inconclusive,
                                  Outcome::Deferred, Outcome::Open, Outcome::NotApplicable}) {
        const std::string words{measure::in_words(outcome)};
        figures::draw_outcome_mark(on, outcome, {x + 1.7, row.top + 2.4}, 3.4);
        on.text({x + 4.4, row.top + 3.3}, words, style);
        x += on.text_width(words, style) + 10.5;
    }
}

constexpr std::size_t columns = 3;
constexpr double key_mm = 6.5;

double list_height(std::size_t checks, double line_mm) {
    return line_mm * static_cast<double>((checks + columns - 1) / columns);
}

/// How the drawing and its list share what is left of a page: the list closes up first, then the
/// drawing shrinks a little. A list that is too long even so goes on over the next page.
struct Shares {
    double drawing_mm;
    double line_mm;
};

Shares shares(double room_mm, double drawing_mm, std::size_t checks) {
    constexpr double widest_mm = 4.3;
    constexpr double narrowest_mm = 3.5;
    const double spare = room_mm - key_mm - 2.5;
    for (double line = widest_mm; line >= narrowest_mm; line -= 0.1) {
        if (drawing_mm + list_height(checks, line) <= spare) return {drawing_mm, line};
    }
    const double left = spare - list_height(checks, narrowest_mm);
    if (left >= 0.8 * drawing_mm) return {left, narrowest_mm};
    return {drawing_mm, widest_mm};
}

void pour_list(Flow& flow, const std::vector<ListedCheck>& checks, double line_mm) {
    const double width = flow.content().width / static_cast<double>(columns);
    std::size_t next = 0;
    while (next < checks.size()) {
        flow.keep_together(3.0 * line_mm);
        const double room = flow.content().bottom() - flow.y();
        const auto rest = checks.size() - next;
        const auto fitting = std::max<std::size_t>(1, static_cast<std::size_t>(room / line_mm));
        const std::size_t rows = std::min(fitting, (rest + columns - 1) / columns);
        Canvas& on = flow.canvas();
        for (std::size_t i = 0; i < std::min(rest, rows * columns); ++i) {
            const ListedCheck& item = checks[next + i];
            const double x = flow.content().left + width * static_cast<double>(i / rows);
            const double y = flow.y() + line_mm * static_cast<double>(i % rows);
            const TextStyle number{letters::small, Weight::Regular, Ink::Faint, Anchor::End};
            const TextStyle title{letters::small, Weight::Regular, Ink::Text, Anchor::Start};
            const TagScope part{on, Role::Paragraph};
            on.text({x + 4.6, y + 3.0}, std::to_string(item.number), number);
            {
                const TagScope mark{on, Role::Figure, std::string{measure::in_words(item.check->outcome)}};
                figures::draw_outcome_mark(on, item.check->outcome, {x + 7.2, y + 2.1}, 3.0);
            }
            on.text({x + 9.8, y + 3.0}, drawing::fitted(on, item.check->title, title, width - 11.0),
                    title);
        }
        next += rows * columns;
        flow.gap(line_mm * static_cast<double>(rows));
        if (next < checks.size()) flow.start_page();
    }
}

}  // namespace

void pour_plant(Flow& flow, const ReportInput& input) {
    flow.start_page();
    flow.heading("The plant and where each check was made");
    flow.paragraph(
        "A schematic drawing, not to scale. Each number is a check of the list below and "
        "of the pages that follow. A part is drawn in full once all its checks conform.");
    const auto checks = listed(input);
    figures::PlantInput plant;
    plant.shape = input.plant;
    for (const ListedCheck& item : checks) {
        plant.pins.push_back(
            {item.check->id, item.check->outcome, std::to_string(item.number), false});
    }
    const double height = flow.content().width * figures::plant_height / figures::plant_width;
    const Shares share = shares(flow.content().bottom() - flow.y(), height, checks.size());
    const auto draw = [&](Canvas& on, Box box) {
        const double narrower = box.width * share.drawing_mm / height;
        figures::draw_plant(
            on, {box.left + (box.width - narrower) / 2.0, box.top, narrower, box.height}, plant);
    };
    flow.figure(share.drawing_mm, draw,
                "Schematic drawing of the plant with a number and an outcome at the place of each "
                "check. The list below has the same numbers.");
    flow.gap(2.5);
    flow.figure(key_mm, draw_key_of_marks);
    pour_list(flow, checks, share.line_mm);
}

}  // namespace wm::handover
