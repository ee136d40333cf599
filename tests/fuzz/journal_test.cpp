// What comes from other devices: JSON, entries, bundles.
#include <nlohmann/json.hpp>

#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "exchange/archive.hpp"
#include "exchange/bundle.hpp"
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"
#include "record/codec.hpp"
#include "record/state.hpp"
#include "store/journal.hpp"
#include "temporary_folder.hpp"

using namespace wm;

namespace {

/// The same value in the words of the other library.
nlohmann::json other_json(const digest::Document& document) {
    if (document.is_null()) return nullptr;
    if (const auto* yes = document.boolean()) return *yes;
    if (const auto* number = document.integer()) return *number;
    if (const auto* text = document.text()) return *text;
    if (const auto* items = document.items()) {
        auto list = nlohmann::json::array();
        for (const auto& item : *items) list.push_back(other_json(item));
        return list;
    }
    auto object = nlohmann::json::object();
    for (const auto& [name, value] : *document.members()) object[name] = other_json(value);
    return object;
}

std::string try_json(const std::string& text) {
    const auto canonical = digest::read_canonical(text, "input");
    if (const auto fault = fuzz::fault_of(canonical); !fault.empty()) return fault;
    const auto read = digest::read_document(text, "input");
    if (!read) return canonical ? "canonical, and yet no document" : fuzz::fault_of(read);
    const auto other = nlohmann::json::parse(text, nullptr, false);
    if (other.is_discarded()) return "a document that the other library refuses";
    if (other != other_json(*read)) return "another value than the other library reads";
    const auto again = digest::canonical_text(*read);
    if (!again) return fuzz::fault_of(again);
    if (canonical && *again != text) return "canonical text that is written otherwise";
    return digest::read_canonical(*again, "again") ? "" : "written text that is not canonical";
}

std::string try_entry(const std::string& line) {
    const auto written = record::read_line(line, "input");
    if (!written) return fuzz::fault_of(written);
    if (written->hash != digest::sha256_hex(line)) return "another hash than that of the line";
    const auto again = record::line_of(written->entry);
    if (!again || *again != line) return "an entry that is written otherwise";
    // Whatever can be read can be folded.
    record::JobState state;
    record::fold_in(state, *written);
    static_cast<void>(state.phase());
    return "";
}

store::RandomBytes counted(std::string start) {
    return [start = std::move(start), count = 0](std::size_t size) mutable {
        std::string bytes;
        while (bytes.size() < size) bytes += digest::sha256(start + std::to_string(++count));
        bytes.resize(size);
        return bytes;
    };
}

store::Journal journal_in(const std::filesystem::path& folder, const std::string& start) {
    store::Opening opening;
    opening.folder = folder;
    opening.random = counted(start);
    opening.wall_ms = 1'804'000'000'000;
    return store::Journal::open_to_write(std::move(opening)).value();
}

/// A small bundle with a photo, words and keys, and one without.
std::vector<std::string> bundles() {
    const TemporaryFolder folder;
    auto journal = journal_in(folder.path(), "a");
    const auto customer = journal.new_customer().value();
    record::NoteMade note{record::Personal::said("Mind the dog."), "", "P-02"};
    const auto kept = journal.keep(customer, "a picture", "image/jpeg", "f00d").value();
    record::ReadingTaken taken;
    taken.check = "coll-tilt";
    taken.text = "35°";
    taken.photos = {kept};
    REQUIRE(journal.append({1'804'000'000'000, customer, {{"J-1", taken}, {"J-1", note}}}));
    return {exchange::pack(journal, {{}, "six lanterns", counted("b")})->bytes, exchange::pack(journal, {{}, "", counted("b")})->bytes};
}

}  // namespace

TEST_CASE("JSON: what is read is what another library reads, and the rest is refused in words") {
    fuzz::run("json", fuzz::corpus_lines("json"), 8'000, try_json);
}
TEST_CASE("entries: a line that is read hashes, writes and folds, and the rest is refused in words") {
    fuzz::run("entries", fuzz::corpus_lines("entry"), 8'000, try_entry);
}
TEST_CASE("bundles: a spoilt one is refused in words, a journal takes nothing of it, and other tools find in it what we do") {
    auto sound = bundles();
    for (const auto& kept : fuzz::corpus("bundle")) sound.push_back(kept);
    REQUIRE(sound.size() >= 4);
    const TemporaryFolder folder;
    auto journal = journal_in(folder.path(), "c");
    // Source: tarfile of Python 3.11 and Ed25519 of python3-cryptography.
    fuzz::SecondReader as_tar{"tar", 250};
    fuzz::SecondReader as_bundle{"bundle", 250};
    fuzz::run("bundles", sound, 240, [&](const std::string& bytes) -> std::string {
        const bool is_sound = std::find(sound.begin(), sound.end(), bytes) != sound.end();
        const auto parts = exchange::unpacked(bytes, "a.bundle");
        nlohmann::json names;
        if (parts)
            for (const auto& part : *parts) names.push_back({part.name, digest::sha256_hex(part.bytes)});
        as_tar.add(bytes, names);
        const auto report = exchange::attest_bundle(bytes, "a.bundle");
        as_bundle.add(bytes, report && report->genuine);
        if (!report) return fuzz::fault_of(report);
        if (is_sound) return report->genuine ? "" : "a sound bundle is not genuine: " + report->reasons.front();
        const auto before = journal.head();
        const auto taken = exchange::unpack(journal, bytes, {.name = "a.bundle", .passphrase = "six lanterns", .wall_ms = 1'804'000'000'000});
        if (!taken) return journal.head() == before ? fuzz::fault_of(taken) : "refused, and yet something was written";
        return "";
    });
    as_tar.must_agree();
    as_bundle.must_agree();
}

TEST_CASE("makes two bundles for the corpus" * doctest::skip()) {
    // Kept for ever: a later program reads what this one packs.
    const auto made = bundles();
    for (std::size_t i = 0; i < made.size(); ++i)
        std::ofstream{std::filesystem::path{WM_SOURCE_DIR} / ("tests/fuzz/corpus/bundle/" + std::string{i == 0 ? "locked" : "open"} + "-" +
                                                              (std::getenv("WM_FORMAT") == nullptr ? "0" : std::getenv("WM_FORMAT")) + ".bundle"),
                      std::ios::binary}
            << made[i];
}
