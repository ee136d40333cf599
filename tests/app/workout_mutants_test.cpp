// Spoilt words of a command line through the whole of it: splitting, reading, working out, printing.
#include <nlohmann/json.hpp>
#include <set>

#include "app/testing.hpp"
#include "app/workout_command.hpp"
#include "workout_mutants.hpp"

namespace wm::app {

namespace {

using testing::Json;

// "" if the output is one that a script may rely on.
std::string fault_of(const Output& output) {
    if (output.code == 0) {
        if (!Json::accept(output.data)) return "answered with what is no JSON";
        for (const char* word : {"nan", "NaN"})
            if (output.data.find(std::string{"\"value\":"} + word) != std::string::npos) return "answered with no number";
        return "";
    }
    // 2: wrong use, 3: an input that cannot be read or taken.
    if (output.code != 2 && output.code != 3) return "ended with " + std::to_string(output.code);
    if (!Json::accept(output.data)) return "refused with what is no JSON";
    return "";
}

}  // namespace

TEST_CASE("no spoilt words crash work-out, and each is answered in JSON or refused in words") {
    // WM_FUZZ_RUNS sets the number; the soak runs a million.
    const auto questions = wm::testing::questions_for(all_computations());
    REQUIRE(questions.size() > 300);
    wm::testing::Dice dice{20261126};
    const std::size_t runs = wm::testing::fuzz_runs(3000);
    std::size_t answered = 0;
    std::set<std::string> told;
    for (std::size_t run = 0; run < runs; ++run) {
        const auto& question = questions[dice.below(questions.size())];
        std::vector<std::string> words{"work-out", question.name};
        for (const auto& [key, text] : question.given) words.push_back(key + "=" + text);
        for (std::size_t times = 1 + dice.below(3); times > 0; --times) {
            auto& word = words[1 + dice.below(words.size() - 1)];
            const auto equals = word.find('=');
            const auto& other = questions[dice.below(questions.size())].given.front().second;
            // Mostly the value is spoilt; now and then the name, the symbol or the sign between them.
            if (equals == std::string::npos || dice.below(8) == 0)
                word = wm::testing::spoilt(word, other, dice);
            else
                word = word.substr(0, equals + 1) + wm::testing::spoilt(word.substr(equals + 1), other, dice);
        }
        // Before the rest: after a name spoilt into "--" it would be a word and no option.
        words.insert(words.begin() + 1, "--json");
        const auto output = run_words(words);
        answered += output.code == 0 ? 1 : 0;
        const auto fault = fault_of(output);
        if (!fault.empty() && told.insert(question.name + fault).second) {
            std::string all;
            for (const auto& word : words) all += "'" + word + "' ";
            FAIL_CHECK(fault << ": " << all << output.talk << output.data);
        }
    }
    MESSAGE(runs << " spoilt command lines, " << answered << " answered");
    CHECK(answered > runs / 20);
    CHECK(answered < runs);
}

}  // namespace wm::app
