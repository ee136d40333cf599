// Checklists made to be slow or large.
#pragma once

#include <algorithm>
#include <cstddef>
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

/// `head`, then `piece` again and again: as many bytes as told, and no more values and tables than the reader takes, so
/// that the pieces are looked at and not refused unread. The rest is a comment.
inline std::string filled(const std::string& head, const std::string& piece, std::size_t bytes) {
    constexpr std::size_t most_marks = 59'900;
    const auto marks_of = [](const std::string& text) {
        return static_cast<std::size_t>(
            std::count_if(text.begin(), text.end(), [](char c) { return c == '=' || c == ',' || c == '[' || c == '{'; }));
    };
    std::string text = head;
    auto marks = marks_of(head);
    while (text.size() + piece.size() < bytes && marks + marks_of(piece) < most_marks) {
        text += piece;
        marks += marks_of(piece);
    }
    return text + "# " + repeated("x", bytes - std::min(bytes, text.size())) + "\n";
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
    // A key the reader does not know keeps the examples from being judged.
    const auto without_depends = [](std::string text) {
        const std::string depends = "depends = [\"look\"]\n";
        text.erase(text.find(depends), depends.size());
        return text;
    };
    // A tolerance has room for 2,000 bytes; derived values are worked out only where the facts for them are given.
    const std::string facts =
        "[example_facts]\nsite.wind_ms = 40\nsys.coll_m2 = 2\nsys.fix_kn = 0.8\nsys.relief_kpa = 600\nheater.relief_kpa = 700\n\n";
    const auto with_facts = [&](const std::string& tolerance, const std::string& example) {
        auto text = without_depends(with_tolerance("reading at least 1 N·m" + tolerance));
        text.insert(text.find("[[stage]]"), facts);
        return filled(text, "\n[[check.example]]\n" + example, bytes);
    };
    const std::string plain = "reading = \"20.5 N·m\"\noutcome = \"conforms\"\n";
    const std::string of_its_own = "facts = { \"site.wind_ms\" = 41 }\n" + plain;
    auto places = without_depends(head);
    places.replace(places.find("kind = \"quantity\""), 17, "kind = \"positions\"\nplaces = [\"1\", \"2\"]");
    std::string many_places = "1=20";
    for (int i = 2; many_places.size() + places.size() < bytes; ++i) many_places += ";" + std::to_string(i) + "=20";
    return {{"examples of a sum of derived values", with_facts(" and d.fix_n" + repeated(" + d.fix_n", 1800) + " at least 0", plain)},
            {"examples of many demands on derived values", with_facts(repeated(" and d.uplift_kn at least 0 kN and d.p_limit_hi at least 0 kPa", 1800), plain)},
            {"examples with facts of their own", with_facts(repeated(" and d.fix_n at least 0", 1800), of_its_own)},
            {"an example of many places", places + "\n[[check.example]]\nreading = \"" + many_places + " N·m\"\noutcome = \"conforms\"\n"},
            {"brackets", repeated("[", bytes)},
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
