// Checklists made to be slow or large.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace wm::fuzz {

inline std::string repeated(std::string_view piece, std::size_t bytes) {
    std::string text;
    text.reserve(bytes + piece.size());
    while (text.size() < bytes) text += piece;
    return text;
}

struct Hostile {
    std::string name;
    std::string text;
};

/// Each of so many bytes; `head` is a sound small checklist (tests/fuzz/corpus/checklist/small.toml).
inline std::vector<Hostile> hostile_ones(const std::string& head, std::size_t bytes) {
    const std::string sound = "reading between 18 N·m and 22 N·m";
    const auto with_tolerance = [&](const std::string& tolerance) {
        auto text = head;
        text.replace(text.find(sound), sound.size(), tolerance);
        return text;
    };
    std::string checks = head.substr(0, head.find("[[check]]"));
    const std::string check = head.substr(head.find("[[check]]"));
    while (checks.size() < bytes) checks += check + "\n";
    std::string many_checks = head.substr(0, head.find("[[check]]"));
    for (int i = 0; many_checks.size() < bytes; ++i)
        many_checks += "[[check]]\nid = \"c" + std::to_string(i) + "\"\nstage = \"A\"\nkind = \"confirm\"\ndepends = [\"c" +
                       std::to_string(i + 1) + "\"]\n";
    std::string keys;
    for (int i = 0; keys.size() < bytes; ++i) keys += "k" + std::to_string(i) + " = 1\n";
    std::string examples = head;
    while (examples.size() < bytes) examples += "\n[[check.example]]\nreading = \"20.5 N·m\"\noutcome = \"conforms\"\n";
    return {{"brackets", repeated("[", bytes)},
            {"a list in lists", "a = " + repeated("[", bytes)},
            {"tables", repeated("[a]\n", bytes)},
            {"tables of tables", repeated("[[a]]\n", bytes)},
            {"points", repeated("a.", bytes) + "b = 1\n"},
            {"points, 90 a line", repeated(repeated("a.", 180) + "b = 1\n", bytes)},
            {"keys", keys},
            {"one long text", "a = \"" + repeated("x", bytes) + "\"\n"},
            {"one open text", "a = \"\"\"" + repeated("x\n", bytes)},
            {"escapes", "a = \"" + repeated("\\u00e4", bytes) + "\"\n"},
            {"comments", repeated("# x\n", bytes)},
            {"one list", "a = [" + repeated("1,", bytes) + "]\n"},
            {"tables within a line", "a = " + repeated("{b=", 30) + "1" + repeated("}", 30) + "\n" + repeated("# x\n", bytes)},
            {"the same check again", checks},
            {"checks that wait for the next", many_checks},
            {"examples", examples},
            {"a tolerance of brackets", with_tolerance(repeated("(", bytes))},
            {"a tolerance of minus signs", with_tolerance(repeated("-", bytes) + "1 at most reading")},
            {"a tolerance of sums", with_tolerance("reading at most " + repeated("1 N·m + ", bytes) + "1 N·m")},
            {"a tolerance of ors", with_tolerance(repeated("reading at most 1 N·m or ", bytes) + "reading at most 2 N·m")},
            {"a tolerance of ifs", with_tolerance(repeated("if true then reading at most 1 N·m else ", bytes) + "reading at most 2 N·m")},
            {"a tolerance of one name", with_tolerance(repeated("a", bytes))},
            {"a tolerance of one number", with_tolerance(repeated("9", bytes))}};
}

}  // namespace wm::fuzz
