// What a lead has to do in a week, in short lines: the first thing on the page, in the letter and on the command line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/view.hpp"

namespace wm::desk {

enum class ToDoKind { Call, Severe, Question, Finding, Action, Open, Visits, More };
/// "call", "severe", "question", "finding", "action", "open", "visits", "more".
[[nodiscard]] std::string_view in_words(ToDoKind kind);

/// One thing to do and what it stands on.
struct ToDo {
    ToDoKind kind = ToDoKind::More;
    std::string words;
    std::string subject{}, check{};   ///< as the evidence has them; empty where it has none
    std::vector<std::string> jobs{};  ///< behind the line
    std::string evidence{};           ///< the kind of a finding or question, the number of an action or a complaint; empty otherwise
};

/// At most `most` lines in the order of their weight: calls about what hurts or floods now, what can still hurt someone, homes that
/// frost may burst, findings that became worse and those of which nobody removes the cause yet or nothing has helped, causes whose
/// day has passed, customers who wait, other questions, what was put off and forgotten, roofs to look at. The last line counts
/// what did not fit. Empty where there is nothing to do; 0 = all lines.
[[nodiscard]] std::vector<ToDo> to_do_of(const WeekView& week, std::size_t most = 10);

/// The symptoms of the shipped catalogue of which its advice on the telephone is to keep away, to switch off or to shut: most
/// urgent first. Every other symptom can wait for a call back.
[[nodiscard]] const std::vector<std::string_view>& urgent_symptoms();

}  // namespace wm::desk
