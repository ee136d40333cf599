#include "handover/report.hpp"

#include <fmt/format.h>

#include "handover/pdf_shape.hpp"
#include "handover/report_pages.hpp"
#include "handover/tags.hpp"
#include "photo/intake.hpp"

namespace wm::handover {

namespace {

Result<void> sound_photos(const ReportInput& input) {
    for (std::size_t i = 0; i < input.photos.size(); ++i) {
        if (photo::is_sound_jpeg(input.photos[i].jpeg)) continue;
        return refused({.what = "A photo is damaged and cannot be printed.",
                        .where = fmt::format("report of job {}, photo {} ({})", input.job, i + 1,
                                             input.photos[i].caption),
                        .what_to_do = "Take the photo again, or leave it out of the report.",
                        .kind = ProblemKind::Unreadable});
    }
    return {};
}

std::string running_foot(const ReportInput& input) {
    if (input.heads.empty()) return input.company;
    return fmt::format("{} · record {}", input.company, input.heads.front().hash.substr(0, 16));
}

}  // namespace

Result<void> pour_report(Book& book, const ReportInput& input) {
    Flow flow{
        book, input.paper, {input.title, joined({input.job, input.place}), running_foot(input)}};
    start_tagging(book.add_page(input.paper));
    book.mark("Page one");
    // A supplement is short: what it does not repeat is in the report it follows.
    const bool whole = !input.supplement;
    pour_supplement(flow, input);
    if (whole) pour_plant(flow, input);
    const int found_page = book.pages() + 1;
    pour_found(flow, input);
    if (whole) {
        pour_expectation(flow, input);
        pour_facts(flow, input);
    }
    pour_checks(flow, input);
    pour_photos(flow, book, input);
    pour_instruments(flow, input);
    if (whole) pour_signatures(flow, input);
    pour_record(flow, input);
    pour_origins(flow, input);
    if (whole) pour_glossary(flow, input);
    pour_cautions(flow, input);
    auto first = draw_page_one(book.page(0), input, found_page);
    flow.number_pages();
    return first;
}

Result<std::string> draw_report(const ReportInput& input) {
    if (const auto sound = sound_photos(input); !sound) {
        return tl::unexpected<Problem>(sound.error());
    }
    PdfBook book{{input.title + ", job " + input.job, input.company, input.place, input.written},
                 input.fonts};
    if (const auto poured = pour_report(book, input); !poured) {
        return tl::unexpected<Problem>(poured.error());
    }
    auto drawn = book.finished();
    if (!drawn) return drawn;
    return with_empty_seal(*drawn, {input.job, input.heads.empty() ? "" : input.heads.front().hash,
                                    input.company, input.written});
}

}  // namespace wm::handover
