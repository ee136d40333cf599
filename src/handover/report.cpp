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

/// What page one is drawn from where it stands beside the customer's.
ReportInput in_company_language(const ReportInput& input) {
    ReportInput ours = input;
    ours.language = {};
    ours.page_one = *input.company_page_one;
    return ours;
}

std::string running_foot(const ReportInput& input) {
    if (input.heads.empty()) return input.company;
    return fmt::format("{} · record {}", input.company, input.heads.front().hash.substr(0, 16));
}

}  // namespace

Result<void> pour_report(Book& book, const ReportInput& input) {
    Flow flow{
        book, input.paper, {input.title, joined({input.job, input.place}), running_foot(input)}};
    // The file is in the customer's language, and each part in the company's says so.
    const std::string ours = input.language.is_english() ? "" : "en";
    start_tagging(book.add_page(input.paper));
    book.mark(input.language.text("Page one"));
    const bool twice = !ours.empty() && input.company_page_one;
    if (twice) {
        book.add_page(input.paper);
        book.mark("Page one");
    }
    speak(book.page(0), ours);
    // A supplement is short: what it does not repeat is in the report it follows.
    const bool whole = !input.supplement;
    pour_supplement(flow, input);
    if (whole) pour_plant(flow, input);
    const int found_page = book.pages() + 1;
    pour_found(flow, input);
    if (whole) {
        speak(book.page(0), "");
        pour_expectation(flow, input);
        speak(book.page(0), ours);
        pour_facts(flow, input);
    }
    pour_checks(flow, input);
    pour_photos(flow, book, input);
    pour_instruments(flow, input);
    speak(book.page(0), "");
    if (whole) pour_signatures(flow, input);
    speak(book.page(0), ours);
    pour_record(flow, input);
    pour_origins(flow, input);
    speak(book.page(0), "");
    if (whole) pour_glossary(flow, input);
    speak(book.page(0), ours);
    pour_cautions(flow, input);
    if (twice) {
        if (auto second = draw_page_one(book.page(1), in_company_language(input), found_page); !second) return second;
    }
    speak(book.page(0), "");
    auto first = draw_page_one(book.page(0), input, found_page);
    flow.number_pages(twice ? 2 : 1);
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
                                    input.company, input.written, input.language.code()});
}

}  // namespace wm::handover
