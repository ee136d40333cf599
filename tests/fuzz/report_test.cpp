// What a customer or a server sends back: reports, seals, stamps, square codes.
#include "digest/seal.hpp"
#include "digest/stamp_authority.hpp"
#include "digest/testing.hpp"
#include "digest/time_stamp.hpp"
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"
#include "handover/paper_proof.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/seal.hpp"

using namespace wm;

namespace {

const std::string nonce = "\x11\x22\x33\x44\x55\x66\x77\x88";

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

TEST_CASE("seals: no spoilt seal is taken for the sound one, and openssl never refuses what is taken") {
    const auto company = digest::testing::some_company();
    auto inputs = fuzz::corpus("seal");
    REQUIRE(inputs.size() >= 6);
    // Of other makers, with another key, another form, words inside or a time among the signed: only one is of our form.
    const auto is_sound = [](const std::string& der) { return digest::verify_detached("the report", der).valid; };
    REQUIRE(std::count_if(inputs.begin(), inputs.end(), is_sound) == 1);
    const std::string sound = *std::find_if(inputs.begin(), inputs.end(), is_sound);
    fuzz::SecondReader openssl{"seal", 150};
    const auto row = [&](bool valid, bool strict, std::string_view content, const digest::CompanyKeys& keys) {
        return nlohmann::json{valid, strict, fuzz::SecondReader::whole_hex(std::string{content}), fuzz::SecondReader::whole_hex(keys.root_certificate)};
    };
    // Sound ones of six companies, over the right and over another text: here both must say the same.
    for (char company_seed = 'a'; company_seed < 'g'; ++company_seed) {
        const auto keys = digest::testing::some_company(company_seed);
        for (const std::string content : {"the report", "", "the report of another"}) {
            const std::string seal = *digest::sign_detached(content, keys);
            for (const std::string shown : {"the report", "the report of another"})
                openssl.add(seal, row(digest::verify_detached(shown, seal).valid, true, shown, keys));
        }
    }
    fuzz::run("seals", inputs, 1'500, [&](const std::string& der) -> std::string {
        const auto check = digest::verify_detached("the report", der);
        static_cast<void>(digest::signature_value(der));
        openssl.add(der, row(check.valid, false, "the report", company));
        if (!check.valid && check.reasons.empty()) return "refused without a reason";
        return check.valid && der != sound ? "another seal is whole as well" : "";
    });
    openssl.must_agree();
}

TEST_CASE("answers of a stamp server: a spoilt one is refused in words or belongs to the question, for openssl too") {
    const std::string request = digest::stamp_request("a signature", nonce);
    auto inputs = fuzz::corpus("stamp");
    const std::string pem = fuzz::corpus_file("stamp_authority/authority.pem");
    REQUIRE(inputs.size() >= 5);
    const auto accepted = [&](const std::string& answer) { return digest::stamp_from(answer, "a signature", nonce).has_value(); };
    // Of whom a stamp is, is the reader's question (time_stamp.hpp); a certificate may be named by its SHA-1, as RFC 3161 has it.
    CHECK(std::count_if(inputs.begin(), inputs.end(), accepted) == 3);
    fuzz::SecondReader openssl{"stamp", 150};
    const std::string asked = fuzz::SecondReader::whole_hex(request);
    // As the servers sent them, to the question and to another.
    for (const auto& answer : inputs) {
        openssl.add(answer, nlohmann::json{accepted(answer), false, asked, pem});
        const std::string another = digest::stamp_request("another signature", nonce);
        openssl.add(answer, nlohmann::json{digest::stamp_from(answer, "another signature", nonce).has_value(), true,
                                           fuzz::SecondReader::whole_hex(another), pem});
    }
    const digest::testing::StampAuthority authority;
    inputs.push_back(authority.answer(request));
    REQUIRE(accepted(inputs.back()));
    inputs.pop_back();
    fuzz::run("stamps", inputs, 800, [&](const std::string& answer) -> std::string {
        const auto stamp = digest::stamp_from(answer, "a signature", nonce);
        openssl.add(answer, nlohmann::json{stamp.has_value(), false, asked, pem});
        if (!stamp) return fuzz::fault_of(stamp);
        return digest::read_stamp(*stamp, "a signature").reasons.empty() ? "" : "accepted, and refused afterwards";
    });
    openssl.must_agree();
}

TEST_CASE("writes a seal of ours and a question to a stamp server where the corpora are made" * doctest::skip()) {
    const std::filesystem::path folder{WM_SOURCE_DIR "/tests/fuzz/corpus"};
    std::ofstream{folder / "seal/ours.der", std::ios::binary} << *digest::sign_detached("the report", digest::testing::some_company());
    std::ofstream{folder / "stamp/question", std::ios::binary} << digest::stamp_request("a signature", nonce);
    std::ofstream{folder / "stamp/question-2", std::ios::binary} << digest::stamp_request("another signature", nonce);
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
