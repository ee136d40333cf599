#include "app/half_typed.hpp"

#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

namespace {

const screens::KeptNumber half{"J-1A2B-0001", "ladder-set", "", "52", "°", "IN-1", "correcting", {{"done", "called Zephyrine Quolltasker"}}};

Sealing sealing(char key) { return {std::string(32, key), seeded_random("half typed")}; }

std::string bytes(const Shell& shell) { return Shell::bytes_of(shell.data() / half_typed_file); }

}  // namespace

TEST_CASE("without PINs what is half typed lies as it always did, and comes back") {
    Shell shell;
    std::filesystem::create_directories(shell.data());
    CHECK_FALSE(read_half_typed(shell.data(), "")->has_value());
    REQUIRE(keep_half_typed(shell.data(), half, {}));
    CHECK(bytes(shell) == screens::written(half));
    CHECK(*read_half_typed(shell.data(), "") == std::optional{half});
    REQUIRE(keep_half_typed(shell.data(), {}, {}));
    CHECK(bytes(shell).empty());
    CHECK_FALSE(read_half_typed(shell.data(), "")->has_value());
}

TEST_CASE("with PINs it is sealed anew with each key press, and only its key opens it") {
    Shell shell;
    const auto key = sealing('k');
    REQUIRE(keep_half_typed(shell.data(), half, key));
    const std::string first = bytes(shell);
    CHECK(first.starts_with("J-1A2B-0001\tladder-set\tsealed\t"));
    CHECK(first.find("Zephyrine") == std::string::npos);
    CHECK_FALSE(screens::read_number_kept(first));  // a version before takes it for nothing
    REQUIRE(keep_half_typed(shell.data(), half, key));
    CHECK(bytes(shell) != first);  // never twice the same nonce
    CHECK(*read_half_typed(shell.data(), key.key) == std::optional{half});
    const auto place = place_of_half_typed(shell.data());
    REQUIRE(place);
    CHECK(place->job == "J-1A2B-0001");
    CHECK(place->check == "ladder-set");
    CHECK(place->words.empty());
    for (const std::string& other : {std::string{}, std::string(32, 'l')}) {
        const auto refused = read_half_typed(shell.data(), other);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().what == "What was half typed when the window last ended cannot be opened, and is left out.");
    }
    // Whichever byte is changed or missing: left out, and said.
    const std::string whole = bytes(shell);
    for (std::size_t i = 0; i < whole.size(); ++i) {
        CAPTURE(i);
        std::string spoilt = whole;
        spoilt[i] = spoilt[i] == '0' ? '1' : '0';
        REQUIRE(write_file(shell.data() / half_typed_file, spoilt));
        CHECK_FALSE(read_half_typed(shell.data(), key.key));
        if (i == 0) continue;
        REQUIRE(write_file(shell.data() / half_typed_file, whole.substr(0, i)));
        CHECK_FALSE(read_half_typed(shell.data(), key.key));
    }
}

TEST_CASE("a signer's name and a call are kept like what is half typed in a check, and a form that is none is not") {
    Shell shell;
    std::filesystem::create_directories(shell.data());
    for (const auto form : {screens::signing_words, screens::call_words, screens::closing_words}) {
        CAPTURE(form);
        const std::string word{form};
        const screens::KeptNumber written{"J-1A2B-0001", word, "", "", "", "", word, {{"name", "Zephyrine Quolltasker"}}};
        for (const auto& key : {Sealing{}, sealing('k')}) {
            REQUIRE(keep_half_typed(shell.data(), written, key));
            CHECK(*read_half_typed(shell.data(), key.key) == std::optional{written});
            const auto place = place_of_half_typed(shell.data());
            REQUIRE(place);
            CHECK(place->check == word);
        }
    }
    CHECK_FALSE(screens::read_number_kept("J-1A2B-0001\tsign off\t\t\t\t\tsign on\tname\tZephyrine\n"));
}

TEST_CASE("the first PIN seals what lies half typed in the clear, and an erasure still finds it") {
    Shell shell;
    const auto job = shell.open_job();
    auto typed = half;
    typed.job = job;
    REQUIRE(keep_half_typed(shell.data(), typed, {}));
    const auto pin = shell.write("owner.pin", "482913\n");
    REQUIRE(shell.run({"access", "add", "Ilka Marrowby", "--new-pin-file", pin}).code == 0);
    CHECK(bytes(shell).find("Zephyrine") == std::string::npos);
    CHECK(bytes(shell).starts_with(job + "\tladder-set\tsealed\t"));
    const std::vector<std::string> ilka{"--person", "Ilka Marrowby", "--pin-file", pin};
    std::vector<std::string> erase{"erase-customer", job, "--despite", "the customer never signed"};
    erase.insert(erase.end(), ilka.begin(), ilka.end());
    REQUIRE(shell.run(erase).code == 0);
    CHECK_FALSE(std::filesystem::exists(shell.data() / half_typed_file));
}

}  // namespace wm::app
