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

}  // namespace wm::app
