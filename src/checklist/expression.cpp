// What can be asked of a parsed expression.
#include "checklist/expression.hpp"

#include <algorithm>

namespace wm::checklist {
namespace {

void add_once(std::vector<std::string>& list, const std::string& item) {
    if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
}

bool asks_a_check(const std::string& function) {
    return function == "outcome" || function == "answer" || function == "value" ||
           function == "commissioning";
}

}  // namespace

std::string_view Expression::text_of(std::uint32_t index) const {
    const Node& node = nodes_[index];
    return std::string_view{text_}.substr(node.begin, node.end - node.begin);
}

std::vector<std::string> Expression::names() const {
    std::vector<std::string> names;
    for (const Node& node : nodes_)
        if (node.op == Op::Name) add_once(names, node.word);
    return names;
}

std::vector<std::string> Expression::checks_named() const {
    std::vector<std::string> ids;
    for (const Node& node : nodes_) {
        if (node.op != Op::Call || !asks_a_check(node.word) || node.operands.empty()) continue;
        const Node& id = nodes_[node.operands.front()];
        if (id.op == Op::Word) add_once(ids, id.word);
    }
    return ids;
}

bool Expression::mentions(std::uint32_t index, std::string_view name) const {
    const Node& node = nodes_[index];
    if (node.op == Op::Name && node.word == name) return true;
    return std::any_of(node.operands.begin(), node.operands.end(),
                       [&](std::uint32_t operand) { return mentions(operand, name); });
}

}  // namespace wm::checklist
