#include <algorithm>

#include "drawing/text_block.hpp"
#include "handover/report_pages.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;

namespace {

constexpr double photo_gap_mm = 5.0;
constexpr double photo_height_mm = 62.0;
constexpr double pad_height_mm = 27.0;

/// The largest box of the photo's proportions inside the room, at its lower left corner, where the
/// caption begins.
Box fitted_box(Box room, int width, int height) {
    const double scale =
        std::min(room.width / std::max(width, 1), room.height / std::max(height, 1));
    const double w = width * scale;
    const double h = height * scale;
    return {room.left, room.top + room.height - h, w, h};
}

void draw_strokes(Canvas& on, Box pad, const std::vector<std::vector<Point>>& strokes) {
    double left = 1e9;
    double right = -1e9;
    double top = 1e9;
    double bottom = -1e9;
    for (const auto& stroke : strokes) {
        for (const Point& p : stroke) {
            left = std::min(left, p.x);
            right = std::max(right, p.x);
            top = std::min(top, p.y);
            bottom = std::max(bottom, p.y);
        }
    }
    if (right < left) return;
    const double scale = std::min({(pad.width - 6.0) / std::max(right - left, 1.0),
                                   (pad.height - 5.0) / std::max(bottom - top, 1.0), 1.0});
    const double dx = pad.left + (pad.width - (right - left) * scale) / 2.0;
    const double dy = pad.top + (pad.height - (bottom - top) * scale) / 2.0;
    for (const auto& stroke : strokes) {
        std::vector<Point> path;
        for (const Point& p : stroke) {
            path.push_back({dx + (p.x - left) * scale, dy + (p.y - top) * scale});
        }
        if (path.size() == 1) on.fill_circle(path.front(), 0.4, Ink::Text);
        on.stroke(path, drawing::Ends::Open, {Ink::Text, 0.5});
    }
}

void draw_signature(Canvas& on, Box box, const ReportSignature& signature, const language::Language& say) {
    const Box pad{box.left, box.top, box.width, pad_height_mm};
    on.stroke_box(pad, 1.0, {Ink::Hairline, 0.25});
    on.line({pad.left + 5.0, pad.bottom() - 6.0}, {pad.right() - 5.0, pad.bottom() - 6.0},
            {Ink::Hairline, 0.2});
    const TextStyle name{letters::body, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle small{letters::small, Weight::Regular, Ink::Faint, Anchor::Start};
    if (!signature.strokes.empty()) {
        const TagScope drawn{on, Role::Figure, language::filled(say.text("Drawn signature of {name}"), {{"name", signature.name}})};
        draw_strokes(on, pad, signature.strokes);
    } else {
        std::string words = say.text("not signed");
        if (!signature.refused_because.empty()) words += ": " + signature.refused_because;
        else if (!signature.at.empty()) words = say.text("signed by the name as typed, not drawn");
        const auto lines = drawing::wrapped(on, words, small, pad.width - 8.0);
        drawing::draw_lines(
            on, {pad.left + 4.0, pad.top + 6.0},
            {lines.begin(), lines.begin() + std::min<std::ptrdiff_t>(
                                                5, static_cast<std::ptrdiff_t>(lines.size()))},
            small);
    }
    on.text({pad.left, pad.bottom() + 4.2}, drawing::fitted(on, signature.name, name, pad.width),
            name);
    on.text({pad.left, pad.bottom() + 8.2},
            drawing::fitted(on, joined({say.text(signature.role.c_str()), signature.at}), small, pad.width), small);
}

}  // namespace

void pour_photos(Flow& flow, Book& book, const ReportInput& input) {
    if (input.photos.empty()) return;
    flow.begin_part(photo_height_mm + 12.0);
    flow.heading("Photos");
    const double width = (flow.content().width - photo_gap_mm) / 2.0;
    const TextStyle caption{letters::small, Weight::Regular, Ink::Text, Anchor::Start};
    for (std::size_t i = 0; i < input.photos.size(); i += 2) {
        std::vector<std::vector<std::string>> captions;
        std::size_t most_lines = 0;
        const std::size_t end = std::min(i + 2, input.photos.size());
        for (std::size_t k = i; k < end; ++k) {
            captions.push_back(
                drawing::wrapped(flow.canvas(), input.photos[k].caption, caption, width));
            most_lines = std::max(most_lines, captions.back().size());
        }
        const double text_mm = drawing::leading_mm(caption) * static_cast<double>(most_lines);
        const double height = photo_height_mm + text_mm + 5.0;
        flow.figure(height, [&](Canvas& on, Box box) {
            for (std::size_t k = i; k < end; ++k) {
                const double left = box.left + static_cast<double>(k - i) * (width + photo_gap_mm);
                const ReportPhoto& photo = input.photos[k];
                const Box frame =
                    fitted_box({left, box.top, width, photo_height_mm}, photo.width, photo.height);
                {
                    const TagScope shown{on, Role::Figure, "Photo: " + photo.caption};
                    book.place_jpeg(frame, photo.jpeg);
                }
                on.stroke_box(frame, 0.0, {Ink::Hairline, 0.15});
                drawing::draw_lines(on, {left, box.top + photo_height_mm + 3.4}, captions[k - i],
                                    caption);
            }
        });
    }
}

void pour_instruments(Flow& flow, const ReportInput& input) {
    if (input.instruments.empty()) return;
    flow.heading("Instruments");
    const double rest = flow.content().width - 20.0 - 24.0 - 24.0;
    Table table{{{"Id", 20.0},
                 {"Kind", rest * 0.26},
                 {"Resolution, U", rest * 0.3},
                 {"Calibrated", 24.0},
                 {"Due", 24.0},
                 {"Certificate, check before use", rest * 0.44}},
                {}};
    for (const ReportInstrument& item : input.instruments) {
        Row row;
        row.cells = {{{bold(item.id)}, {}, {}},
                     {{plain(item.type)}, {}, {}},
                     {{plain(item.resolution), plain(item.uncertainty)}, {}, {}},
                     {{plain(item.calibrated)}, {}, {}},
                     {{plain(item.due)}, {}, {}},
                     {{plain(item.certificate), faint(item.pre_use)}, {}, {}}};
        table.rows.push_back(std::move(row));
    }
    flow.table(table);
}

void pour_signatures(Flow& flow, const ReportInput& input) {
    if (input.signatures.empty()) return;
    const language::Language& say = input.language;
    flow.begin_part(pad_height_mm + 30.0);
    flow.heading(say.text("Signatures"));
    const double width = (flow.content().width - photo_gap_mm) / 2.0;
    for (std::size_t i = 0; i < input.signatures.size(); i += 2) {
        flow.figure(pad_height_mm + 12.0, [&](Canvas& on, Box box) {
            for (std::size_t k = i; k < std::min(i + 2, input.signatures.size()); ++k) {
                const double left = box.left + static_cast<double>(k - i) * (width + photo_gap_mm);
                draw_signature(on, {left, box.top, width, box.height}, input.signatures[k], say);
            }
        });
    }
    for (const ReportSignature& signature : input.signatures) {
        if (signature.reservations.empty()) continue;
        flow.paragraph(language::filled(say.text("Reservations of {name}: {words}"),
                                        {{"name", signature.name}, {"words", signature.reservations}}));
    }
    flow.paragraph(
        say.text("A signature drawn on a screen is a simple electronic signature: it shows that "
                 "someone drew it there at that time, not by itself who it was. The seal of this "
                 "file is another thing: it proves who issued the report and that nothing was "
                 "changed since."),
        {letters::small, Weight::Regular, Ink::Faint, Anchor::Start});
}

void pour_record(Flow& flow, const ReportInput& input) {
    flow.heading("The record behind this report");
    flow.paragraph(
        "Every entry of the job is chained to the one before it by its SHA-256 sum, a "
        "chain for each device. Whoever holds the record can recompute the chain with "
        "stock tools and compare its head with the one printed here.");
    Table heads{
        {{"Device", 62.0}, {"Entry", 16.0}, {"Head (SHA-256)", flow.content().width - 78.0}}, {}};
    const TextStyle mono{letters::small, Weight::Mono, Ink::Text, Anchor::Start};
    for (const ReportHead& head : input.heads) {
        heads.rows.push_back({{{{{head.device, mono}}, {}, {}},
                               {{plain(head.sequence)}, {}, {}},
                               {{{head.hash, mono}}, {}, {}}},
                              {},
                              0.0});
    }
    flow.table(heads);
    for (const std::string& note : input.record_notes) flow.paragraph(note);
    flow.paragraph(joined({input.checklist, input.engine}),
                   {letters::small, Weight::Regular, Ink::Faint, Anchor::Start});
    flow.paragraph(
        "To check this file: witnessmark attest FILE.pdf, or any PDF reader that shows "
        "signatures. A printed page is checked by its square code.");
}

void pour_glossary(Flow& flow, const ReportInput& input) {
    if (input.glossary.empty()) return;
    const language::Language& say = input.language;
    flow.heading(say.text("Words used here"));
    Table table{{{say.text("Word"), 48.0}, {say.text("Meaning"), flow.content().width - 48.0}}, {}};
    for (const GlossaryTerm& term : input.glossary) {
        table.rows.push_back(
            {{{{bold(term.word)}, {}, {}}, {{plain(term.meaning)}, {}, {}}}, {}, 0.0});
    }
    flow.table(table);
}

void pour_cautions(Flow& flow, const ReportInput& input) {
    if (input.cautions.empty()) return;
    flow.heading("Cautions");
    Table table{{{"About", 36.0}, {"Caution", flow.content().width - 36.0}}, {}};
    for (const ReportCaution& caution : input.cautions) {
        table.rows.push_back(
            {{{{bold(caution.title)}, {}, {}}, {{plain(caution.text)}, {}, {}}}, {}, 0.0});
    }
    flow.table(table);
}

}  // namespace wm::handover
