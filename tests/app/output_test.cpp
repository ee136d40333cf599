#include "app/output.hpp"

#include <doctest/doctest.h>

namespace wm::app {

TEST_CASE("exit codes follow the kind of the problem") {
    CHECK(exit_code(ProblemKind::Refused) == 1);
    CHECK(exit_code(ProblemKind::WrongUse) == 2);
    CHECK(exit_code(ProblemKind::Unreadable) == 3);
    CHECK(exit_code(ProblemKind::NotStored) == 4);
}

TEST_CASE("a problem is told on stderr, and with --json as one document on stdout too") {
    const Problem problem{"The \"disk\" is full.", "folder \xff", "Make room.", ProblemKind::NotStored};
    const auto text = told_as(problem, Form::Text);
    CHECK(text.data.empty());
    CHECK(text.talk.find("The \"disk\" is full.") != std::string::npos);
    CHECK(text.code == 4);
    const auto json = told_as(problem, Form::Json);
    CHECK(json.data.starts_with("{\"problem\":{\"what\":\"The \\\"disk\\\" is full.\",\"where\":\"folder "));
    CHECK(json.data.ends_with("\"what_to_do\":\"Make room.\"}}\n"));
}

TEST_CASE("bytes of a broken file do not steer the terminal") {
    const auto output = told_as({"\"\x1b[2J\xff\" is no fact.", "bad.toml:1:1", "Mend it.", ProblemKind::Unreadable}, Form::Text);
    CHECK(output.talk == "bad.toml:1:1: \"?[2J?\" is no fact.\nMend it.\n");
    const auto fine = told_as({"35 N·m is too much.", "here", "Look again.", ProblemKind::Unreadable}, Form::Text);
    CHECK(fine.talk.find("N·m") != std::string::npos);
}

}  // namespace wm::app
