#include <doctest/doctest.h>

#include <cstdio>

#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;

namespace {

/// What the script says about a chain and the explanation of its head.
std::string said_by_script(const std::string& chain, const std::string& explanation) {
    const Folder folder;
    set_bytes(folder.path() / "chain.txt", chain);
    set_bytes(folder.path() / "explanation.txt", explanation);
    const std::string command =
        "sh '" WM_SOURCE_DIR "/tests/whole/chain_by_hand.sh' '" + folder.path().string() + "' 2>&1";
    std::FILE* pipe = ::popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string said;
    char part[4096];
    while (const std::size_t count = std::fread(part, 1, sizeof part, pipe))
        said.append(part, count);
    ::pclose(pipe);
    return said;
}

bool says(const std::string& said, const std::string& words) {
    return said.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("sha256sum and openssl alone find a chain sound, and a changed entry in it") {
    const Folder folder;
    Journal journal = writing(folder);
    const std::string customer = journal.new_customer().value();
    for (const char* text : {"23.5 N·m", "back\\slash \"quoted\"", "%s  two spaces"}) {
        REQUIRE(journal.append(
            intent(customer, {{"J-1", reading("anchor-torque", text)}, {"J-1", note("n")}})));
    }
    const auto head = journal.signed_heads().value().front();
    const std::string chain =
        wm::record::chain_file(journal.read_chain(journal.device(), 1).value().entries).value();
    const std::string explanation = wm::record::explain_chain(head, "chain.txt");

    const std::string good = said_by_script(chain, explanation);
    CAPTURE(good);
    CHECK(says(good, "7 entries, head " + head.head.hash));
    CHECK(says(good, "Signature Verified Successfully"));
    CHECK(says(good, "\n" + journal.device() + "\n"));
    CHECK_FALSE(says(good, "was changed"));
    CHECK_FALSE(says(good, "does not follow"));

    std::string changed = chain;
    changed.replace(changed.find("23.5"), 4, "24.5");
    CHECK(says(said_by_script(changed, explanation), "entry 2 was changed"));
    std::string cut = chain;
    cut.erase(0, cut.find('\n') + 1);
    CHECK(says(said_by_script(cut, explanation), "entry 1 does not follow the one before"));
    std::string other = explanation;
    other.replace(other.find("printf 'witnessmark head"), 24, "printf 'witnessmark Head");
    CHECK(says(said_by_script(chain, other), "Signature Verification Failure"));
}
