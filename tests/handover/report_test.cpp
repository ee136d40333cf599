#include "handover/report.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "digest/seal.hpp"
#include "handover/report_pages.hpp"
#include "handover/seal.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

/// Every free text far longer than anyone would write, some of it without a space.
ReportInput monstrous_report() {
    ReportInput input = handover::testing::sample_report(3);
    const std::string long_words = [] {
        std::string words;
        for (int i = 0; i < 90; ++i) words += "collar relaid and glued again, ";
        return words + std::string(300, 'W');
    }();
    input.company =
        "A company whose name was never meant to fit into one single line of paper at all";
    input.place = long_words;
    input.title = long_words;
    input.page_one.restrictions = {long_words, long_words, long_words};
    input.page_one.state = HandoverState::Restricted;
    for (auto* lines : {&input.page_one.fitted, &input.page_one.warranty, &input.page_one.call}) {
        for (int i = 0; i < 12; ++i) lines->push_back({long_words, long_words});
        std::rotate(lines->begin(), lines->end() - 12, lines->end());
    }
    input.page_one.questions = {long_words, long_words};
    input.page_one.fingerprint_published = long_words;
    input.facts.push_back({long_words, long_words});
    for (auto& stage : input.stages) stage.checks.front().question = long_words;
    for (auto& item : input.nonconformities) item.done = item.why = item.title = long_words;
    input.stages[2].checks[0].readings.assign(
        60, {long_words.substr(0, 60), "place", "TW-1", "2027-03-04 09:00 +02:00", "Tindo Quellaby",
             measure::Outcome::DoesNotConform, long_words});
    input.photos[0].caption = long_words.substr(0, 900);
    input.photos[1].width = 20000;
    input.signatures[0].name = long_words;
    input.signatures[1].strokes.clear();
    input.signatures[1].refused_because = long_words;
    input.signatures[1].reservations = long_words;
    return input;
}

void check_layout(ReportInput input) {
    for (const PaperSize paper : {PaperSize::A4, PaperSize::Letter}) {
        input.paper = paper;
        handover::testing::RecordedBook book;
        REQUIRE(pour_report(book, input));
        const drawing::Box sheet = sheet_of(paper);
        const drawing::Box printable_area{8, 8, sheet.width - 16, sheet.height - 16};
        for (std::size_t number = 0; number < book.leaves.size(); ++number) {
            CAPTURE(number);
            const auto& leaf = book.leaves[number];
            for (const std::string& what : drawing::outside(*leaf, printable_area)) {
                FAIL_CHECK("outside the sheet: ", what);
            }
            for (const std::string& pair : drawing::colliding_texts(*leaf)) {
                FAIL_CHECK("on top of each other: ", pair);
            }
        }
        for (const drawing::Box& picture : book.pictures) {
            CHECK(picture.left >= printable_area.left);
            CHECK(picture.right() <= printable_area.right());
            CHECK(picture.bottom() <= printable_area.bottom());
        }
    }
}

std::string sealed(const ReportInput& input) {
    const auto keys = handover::testing::sample_company();
    return *seal_report(*draw_report(input),
                        [&](std::string_view bytes) { return digest::sign_detached(bytes, keys); });
}

}  // namespace

TEST_CASE("on A4 and Letter nothing leaves the sheet and no words collide") {
    check_layout(handover::testing::sample_report(12));
}

TEST_CASE("texts of any length wrap and never run over each other or off the sheet") {
    check_layout(monstrous_report());
}

TEST_CASE("a report of nothing but a job number can be drawn") {
    ReportInput input;
    input.job = "J-1";
    input.page_one.paper_proof = "x";
    CHECK(draw_report(input));
}

TEST_CASE("the same input gives the same bytes") {
    const ReportInput input = handover::testing::sample_report(1);
    const bool is_the_same = *draw_report(input) == *draw_report(input);
    CHECK(is_the_same);
}

TEST_CASE("page one shows three corrections and says where the others are") {
    const ReportInput input = handover::testing::sample_report(0);
    REQUIRE(input.nonconformities.size() == 4);
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    const std::string first = book.words_of_page(0);
    CHECK(first.find("Handed over in full") != std::string::npos);
    CHECK(first.find("1 more on page 3") != std::string::npos);
    CHECK(first.find("Relief opens and closes") != std::string::npos);
    CHECK(first.find("Pipe ends closed") == std::string::npos);
    CHECK(book.words_of_page(2).find("Pipe ends closed") != std::string::npos);
}

TEST_CASE("every failed reading stands on the report, with what was done and what proved it") {
    ReportInput input = handover::testing::sample_report(0);
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    const std::string all = book.all_words();
    CHECK(all.find("16.5 N·m at place 8") != std::string::npos);
    CHECK(all.find("8: 16.5 N·m (does not") != std::string::npos);
    CHECK(all.find("Thread cleaned and greased") != std::string::npos);
    CHECK(all.find("20.2 N·m, TW-1, 09:41") != std::string::npos);
}

TEST_CASE("every check, instrument, term and caution is printed once at least") {
    const ReportInput input = handover::testing::sample_report(0);
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    const std::string all = book.all_words();
    for (const auto& stage : input.stages) {
        for (const auto& check : stage.checks) {
            CAPTURE(check.id);
            CHECK(all.find(check.id) != std::string::npos);
        }
    }
    for (const auto& item : input.instruments)
        CHECK(all.find(item.certificate) != std::string::npos);
    for (const auto& term : input.glossary) CHECK(all.find(term.word) != std::string::npos);
    CHECK(all.find(input.heads.front().hash) != std::string::npos);
    CHECK(all.find("simple electronic signature") != std::string::npos);
}

TEST_CASE("each page but the first carries a running head, and all their number") {
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, handover::testing::sample_report(0)));
    for (std::size_t i = 0; i < book.leaves.size(); ++i) {
        CAPTURE(i);
        const std::string words = book.words_of_page(i);
        const std::string number =
            "page " + std::to_string(i + 1) + " of " + std::to_string(book.leaves.size());
        CHECK(words.find(number) != std::string::npos);
        if (i > 0) CHECK(words.find("J-07-0031") != std::string::npos);
    }
}

TEST_CASE("a damaged photo is refused by its caption, not printed broken") {
    ReportInput input = handover::testing::sample_report(1);
    input.photos[0].jpeg.resize(input.photos[0].jpeg.size() / 2);
    const auto report = draw_report(input);
    REQUIRE(!report);
    CHECK(told(report.error()) ==
          "report of job J-07-0031, photo 1 (Edge guard along the eaves): A photo is damaged and "
          "cannot be printed.\nTake the photo again, or leave it out of the report.");
}

TEST_CASE("a missing font is a problem in words, not an end of the program") {
    ReportInput input = handover::testing::sample_report(0);
    input.fonts.regular = "/nowhere/font.ttf";
    const auto report = draw_report(input);
    REQUIRE(!report);
    CHECK(report.error().what_to_do.find("DejaVu fonts") != std::string::npos);
}

TEST_CASE("a report with 12 photos is smaller than 2 MB") {
    CHECK(sealed(handover::testing::sample_report(12)).size() <= 2'000'000u);
}

TEST_CASE("stock tools accept the sealed file and read its words") {
    const auto folder = std::filesystem::temp_directory_path() / "witnessmark-report-test";
    std::filesystem::create_directories(folder);
    const auto file = folder / "report.pdf";
    std::ofstream{file, std::ios::binary} << sealed(handover::testing::sample_report(1));
    const auto said = [&](const std::string& command, const std::string& after = "") {
        const auto out = folder / "said.txt";
        const std::string line =
            command + " " + file.string() + after + " > " + out.string() + " 2>&1";
        if (std::system(line.c_str()) < 0) return std::string{};
        std::ifstream in{out, std::ios::binary};
        return std::string{std::istreambuf_iterator<char>{in}, {}};
    };
    if (std::system("command -v pdfsig qpdf > /dev/null 2>&1") != 0) {
        MESSAGE("pdfsig and qpdf are not installed; the check was left out");
        return;
    }
    const std::string signature = said("pdfsig");
    CHECK(signature.find("Signature is Valid") != std::string::npos);
    CHECK(signature.find("Total document signed") != std::string::npos);
    CHECK(signature.find("ETSI.CAdES.detached") != std::string::npos);
    CHECK(said("qpdf --check").find("No syntax or stream encoding errors") != std::string::npos);
    const std::string words = said("pdftotext -layout", " -");
    CHECK(words.find("begincidrange") == std::string::npos);
    for (const char* printed :
         {"Handed over in full", "16.5 N·m at place 8", "485 to 539 kPa", "at most 0.1 Ω",
          "guarded acceptance", "46.4 °C", "Maribel Ostrander"}) {
        CAPTURE(printed);
        CHECK(words.find(printed) != std::string::npos);
    }
    std::filesystem::remove_all(folder);
}
