#include "handover/seal.hpp"

#include <doctest/doctest.h>

#include <cstdlib>

#include "digest/seal.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/report.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

const digest::CompanyKeys& keys() {
    static const digest::CompanyKeys made = handover::testing::sample_company();
    return made;
}

Result<std::string> sign(std::string_view bytes) {
    return digest::sign_detached(bytes, keys());
}

const std::string& sealed_report() {
    static const std::string made =
        *seal_report(*draw_report(handover::testing::sample_report(0)), sign);
    return made;
}

std::string reasons_of(std::string_view file) {
    std::string all;
    for (const std::string& reason : attest_report(file).reasons) all += reason + "\n";
    return all;
}

}  // namespace

TEST_CASE("a sealed report is genuine and says who sealed what and when") {
    const Attestation attested = attest_report(sealed_report());
    CHECK(reasons_of(sealed_report()) == "");
    CHECK(attested.genuine);
    CHECK(attested.signer == "Bramblewisp Solar Crews");
    CHECK(attested.root_fingerprint == digest::root_fingerprint(keys()));
    CHECK(attested.job == "J-07-0031");
    CHECK(attested.signed_at == "2027-03-04T11:58:12+02:00");
    CHECK(attested.head == handover::testing::sample_report(0).heads.front().hash);
}

TEST_CASE("sealing moves nothing: only the place and the byte range differ") {
    const std::string report = *draw_report(handover::testing::sample_report(0));
    CHECK(report.size() == sealed_report().size());
    const auto slot = seal_slot(sealed_report());
    REQUIRE(slot);
    const bool is_the_same = unsealed(sealed_report(), *slot) == report;
    CHECK(is_the_same);
}

TEST_CASE("a report that was never sealed is not genuine") {
    CHECK(!attest_report(*draw_report(handover::testing::sample_report(0))).genuine);
}

TEST_CASE("every byte of a report, changed alone, is refused") {
    // Each byte with `scripts/soak flips`; a sample of them here. The bit changes with the place, so
    // that letters become other letters, digits other digits, and words other cases.
    const char* asked = std::getenv("WM_FLIP_STEP");
    const std::size_t step = asked == nullptr ? 1009 : std::stoul(asked);
    std::string file = sealed_report();
    std::size_t accepted = 0;
    for (std::size_t at = 0; at < file.size(); at += step) {
        const char was = file[at];
        file[at] = static_cast<char>(was ^ (1 << (at / step % 7)));
        if (attest_report(file).genuine) {
            ++accepted;
            MESSAGE("byte ", at, " may be changed");
        }
        file[at] = was;
    }
    CHECK(accepted == 0);
    CHECK(attest_report(file).genuine);
}

TEST_CASE("upper-case digits and a filled padding are refused although they mean the same") {
    const auto slot = *seal_slot(sealed_report());
    std::string upper = sealed_report();
    const std::size_t letter = upper.find_first_of("abcdef", slot.from + 1);
    upper[letter] = static_cast<char>(upper[letter] - 'a' + 'A');
    CHECK(!attest_report(upper).genuine);
    std::string padded = sealed_report();
    padded[slot.to - 3] = '1';
    CHECK(reasons_of(padded) == "The place of the seal holds no signature.\n");
}

TEST_CASE("bytes after the end are refused, whatever they are") {
    for (const char* extra :
         {"\n", " ", "%%EOF\n", "\n1 0 obj\n<<>>\nendobj\nstartxref\n9\n%%EOF\n"}) {
        CAPTURE(extra);
        CHECK(!attest_report(sealed_report() + extra).genuine);
    }
    CHECK(!attest_report("x" + sealed_report()).genuine);
    CHECK(!attest_report(sealed_report().substr(0, sealed_report().size() - 1)).genuine);
    CHECK(!attest_report("").genuine);
}

TEST_CASE("a byte range that leaves something out is refused before the signature is asked") {
    const auto slot = *seal_slot(sealed_report());
    std::string file = sealed_report();
    const std::string number = std::to_string(file.size() - slot.to);
    const std::size_t at = file.find(" " + number + " ", file.find("/ByteRange"));
    REQUIRE(at != std::string::npos);
    file[at + number.size()] = file[at + number.size()] == '1' ? '2' : '1';
    CHECK(reasons_of(file) == "The seal does not cover the whole file.\n");
}

TEST_CASE("a seal made over another report does not fit") {
    ReportInput other = handover::testing::sample_report(0);
    other.page_one.hottest_tap = "49.9 °C";
    const std::string second = *seal_report(*draw_report(other), sign);
    const auto from = *seal_slot(sealed_report());
    const auto to = *seal_slot(second);
    std::string mixed = second;
    mixed.replace(to.from, to.to - to.from, sealed_report().substr(from.from, from.to - from.from));
    CHECK(attest_report(second).genuine);
    CHECK(!attest_report(mixed).genuine);
}

TEST_CASE("a signer's problem is passed on, and a signature too large is refused") {
    const std::string report = *draw_report(handover::testing::sample_report(0));
    const Problem locked{"The keys are locked.", "keys", "Enter the PIN.", ProblemKind::Refused};
    const auto refused_by_signer = seal_report(
        report, [&](std::string_view) -> Result<std::string> { return refused(locked); });
    CHECK(refused_by_signer.error() == locked);
    const auto too_large = seal_report(report, [](std::string_view) -> Result<std::string> {
        return std::string(seal_room + 1, 'x');
    });
    CHECK(too_large.error().what == "The signature does not fit into its place in the report.");
    CHECK(seal_report("%PDF-1.7\n", sign).error().what == "This file has no place for a seal.");
}
