#include "handover/tags.hpp"

#include <fmt/format.h>

#include <charconv>

namespace wm::handover {

namespace {

constexpr std::string_view tree_begin = "%%EOF\n%parts\n";

/// The number at the front of `text`, which is taken off together with the sign behind it.
int take_number(std::string_view& text) {
    int number = 0;
    const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (problem != std::errc{}) return 0;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    if (!text.empty()) text.remove_prefix(1);
    return number;
}

}  // namespace

TagScope::TagScope(drawing::Canvas& on, Role role, std::string alternative, int columns)
    : on_{dynamic_cast<TaggingCanvas*>(&on)} {
    if (on_ == nullptr) return;
    TagNode node;
    node.role = role;
    node.columns = columns;
    node.alternative = std::move(alternative);
    part_ = on_->open(std::move(node));
}

TagScope::TagScope(drawing::Canvas& on, int part)
    : on_{dynamic_cast<TaggingCanvas*>(&on)}, part_{part} {
    if (on_ != nullptr) on_->reopen(part);
}

TagScope::~TagScope() {
    if (on_ != nullptr) on_->close();
}

void start_tagging(drawing::Canvas& on) {
    if (auto* canvas = dynamic_cast<TaggingCanvas*>(&on)) canvas->start_tagging();
}

void speak(drawing::Canvas& on, const std::string& language) {
    if (auto* canvas = dynamic_cast<TaggingCanvas*>(&on)) canvas->speak(language);
}

std::string with_tree(std::string file, const TagTree& tree) {
    if (tree.empty()) return file;
    // The file ends with the first six bytes of the mark.
    file += tree_begin.substr(6);
    for (const TagNode& node : tree) {
        file += fmt::format("{} {} {} {} ", static_cast<int>(node.role), node.parent, node.columns,
                            node.pieces.size());
        for (const TagPiece& piece : node.pieces) file += fmt::format("{} {} ", piece.page, piece.run);
        file += (node.language.empty() ? "-" : node.language) + " ";
        for (const char c : node.alternative) file += c == '\n' ? ' ' : c;
        file += '\n';
    }
    return file;
}

std::pair<std::string, TagTree> without_tree(std::string_view file_and_tree) {
    const auto at = file_and_tree.rfind(tree_begin);
    if (at == std::string_view::npos) return {std::string{file_and_tree}, {}};
    TagTree tree;
    std::string_view rest = file_and_tree.substr(at + tree_begin.size());
    while (!rest.empty()) {
        std::string_view line = rest.substr(0, rest.find('\n'));
        rest.remove_prefix(std::min(rest.size(), line.size() + 1));
        TagNode node;
        node.role = static_cast<Role>(take_number(line));
        node.parent = take_number(line);
        node.columns = take_number(line);
        for (int pieces = take_number(line); pieces > 0; --pieces) {
            const int page = take_number(line);
            node.pieces.push_back({page, take_number(line)});
        }
        const std::string_view language = line.substr(0, line.find(' '));
        if (language != "-") node.language = language;
        line.remove_prefix(std::min(line.size(), language.size() + 1));
        node.alternative = line;
        tree.push_back(std::move(node));
    }
    return {std::string{file_and_tree.substr(0, at + 6)}, std::move(tree)};
}

}  // namespace wm::handover
