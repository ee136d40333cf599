// What a customer, a server or a camera sends back: reports, seals, stamps, square codes, pictures.
#include "digest/seal.hpp"
#include "digest/stamp_authority.hpp"
#include "digest/testing.hpp"
#include "digest/time_stamp.hpp"
#include "fuzz/spoil.hpp"
#include "handover/paper_proof.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/seal.hpp"
#include "photo/intake.hpp"

using namespace wm;

namespace {

const std::string nonce = "\x11\x22\x33\x44\x55\x66\x77\x88";

std::string try_image(const std::string& bytes) {
    const auto photo = photo::take_in(bytes, "a.jpg");
    if (!photo) return fuzz::fault_of(photo);
    if (photo->width < 1 || photo->height < 1 || photo->width > 1600 || photo->height > 1600) return "a photo of no size";
    return photo::is_sound_jpeg(photo->jpeg) ? "" : "taken in, and yet no sound picture";
}

}  // namespace

TEST_CASE("reports: a spoilt file is read to its end and told in reasons") {
    auto inputs = fuzz::corpus("pdf");
    const auto sealed = handover::with_empty_seal(inputs.front(), {"J-1", std::string(64, 'a'), "Tarnhollow Sunworks", {2027, 3, 4, 9, 10, 0, 120}});
    REQUIRE_MESSAGE(sealed, (sealed ? "" : sealed.error().what));
    inputs.push_back(*sealed);
    fuzz::run("pdf", inputs, 300, [](const std::string& bytes) -> std::string {
        const auto slot = handover::seal_slot(bytes);
        if (slot && (slot->from >= slot->to || slot->to > bytes.size())) return "a seal outside the file";
        if (slot) static_cast<void>(handover::unsealed(bytes, *slot));
        const auto reading = handover::read_shape(bytes);
        for (const auto& reason : reading.reasons)
            if (reason.empty()) return "a reason without words";
        return "";
    });
}

TEST_CASE("seals: no spoilt seal is taken for the sound one") {
    const std::string sound = *digest::sign_detached("the report", digest::testing::some_company());
    REQUIRE(digest::verify_detached("the report", sound).valid);
    fuzz::run("seals", {sound}, 1'500, [&](const std::string& der) -> std::string {
        const auto check = digest::verify_detached("the report", der);
        static_cast<void>(digest::signature_value(der));
        return check.valid && der != sound ? "another seal is whole as well" : "";
    });
}

TEST_CASE("answers of a stamp server: a spoilt one is refused in words or belongs to the question") {
    const digest::testing::StampAuthority authority;
    const std::string sound = authority.answer(digest::stamp_request("a signature", nonce));
    REQUIRE(digest::stamp_from(sound, "a signature", nonce));
    fuzz::run("stamps", {sound}, 800, [&](const std::string& answer) -> std::string {
        const auto stamp = digest::stamp_from(answer, "a signature", nonce);
        if (!stamp) return fuzz::fault_of(stamp);
        return digest::read_stamp(*stamp, "a signature").reasons.empty() ? "" : "accepted, and refused afterwards";
    });
}

TEST_CASE("square codes: a spoilt text is refused in words or says the same again") {
    const auto company = digest::testing::some_company();
    const auto sign = [&](std::string_view text) { return digest::sign_as_company(company, text); };
    auto inputs = fuzz::corpus("proof");
    inputs.push_back(*handover::paper_proof({"J-07-0031", "full", "2027-03-04", "14 Dovetail Steps", "61 of 61 conform", "46 °C",
                                             std::string(32, 'a'), digest::root_fingerprint(company).substr(0, 32)},
                                            sign));
    fuzz::run("square codes", inputs, 6'000, [&](const std::string& text) -> std::string {
        const auto paper = handover::read_paper_proof(text);
        if (!paper) return fuzz::fault_of(paper);
        const bool is_signed = handover::is_signed_by(*paper, company.root_certificate);
        return is_signed && paper->covered != inputs.back().substr(0, paper->covered.size()) ? "signed, and yet altered" : "";
    });
}

TEST_CASE("pictures: a spoilt one is refused in words or becomes a sound photo") {
    fuzz::run("images", fuzz::corpus("image"), 1'500, try_image);
}
