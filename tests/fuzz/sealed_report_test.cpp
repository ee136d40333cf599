// Sealed reports beside a reader of PDF that shares no code with ours.
#include "digest/seal.hpp"
#include "digest/testing.hpp"
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"
#include "handover/pdf_book.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/seal.hpp"

using namespace wm;

namespace {

Result<std::string> sealed(std::string_view drawn, const handover::SealPlace& place) {
    static const auto company = digest::testing::some_company();
    const auto bare = handover::with_empty_seal(drawn, place);
    if (!bare) return bare;
    return handover::seal_report(*bare, [](std::string_view bytes) { return digest::sign_detached(bytes, company); });
}

/// What we read out of a genuine report, as second_reader.py asks for it; null for every other file.
nlohmann::json reading_of(const std::string& file, int pages) {
    const auto slot = handover::seal_slot(file);
    const auto attested = handover::attest_report(file);
    if (!slot || !attested.genuine) return nullptr;
    return {{"job", attested.job}, {"head", attested.head}, {"signer", attested.signer}, {"signed_at", attested.signed_at},
            {"ranges", {{0, slot->from}, {slot->to, file.size()}}}, {"pages", pages}};
}

std::string drawn_book(int pages, const std::string& words) {
    handover::PdfBook book{{words, "Tarnhollow Sunworks", words, {2027, 3, 4, 9, 10, 0, 120}}, {}};
    for (int page = 0; page < pages; ++page) book.add_page(handover::PaperSize::A4).text({20, 20}, words, {});
    const auto file = book.finished();
    REQUIRE_MESSAGE(file, (file ? "" : file.error().what));
    return *file;
}

}  // namespace

TEST_CASE("reports: what we call genuine is sound, wholly signed and says the same of itself for another reader") {
    // Source: pdfinfo and pdfsig of poppler 22.12.
    fuzz::SecondReader poppler{"report", 70};
    const std::string head(64, 'c');
    int pages = 0;
    for (const std::string words : {"J-07-0031", "Żółw & <Sohn> 46 °C", "Ω ≤ 50 (a) \\ b"})
        for (const int zone : {0, 345, -210}) {
            const auto file = sealed(drawn_book(++pages, words), {words, head, words, {2027, 12, 31, 23, 50, 9, zone}});
            REQUIRE_MESSAGE(file, (file ? "" : file.error().what));
            const auto ours = reading_of(*file, pages);
            REQUIRE(ours.is_object());
            CHECK(ours["job"] == words);
            poppler.add(*file, ours);
        }
    // Drawn by a page library gone wrong, and sealed all the same: rare, so only what is genuine is asked about.
    std::size_t genuine = 0;
    fuzz::run("reports sealed when spoilt", fuzz::corpus("pdf"), 1'500, [&](const std::string& drawn) -> std::string {
        const auto file = sealed(drawn, {"J-1", head, "Tarnhollow Sunworks", {2027, 3, 4, 9, 10, 0, 120}});
        if (!file) return fuzz::fault_of(file);
        const auto ours = reading_of(*file, 0);
        if (ours.is_object() && ++genuine <= 40) poppler.add(*file, ours);
        return "";
    });
    CHECK(genuine > 5);
    poppler.must_agree();
}
