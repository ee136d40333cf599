// How hard a text is to read, for the tests of what a customer gets into the hand.
#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wm::handover::testing {

/// Words as people speak them: "60" and "°C" are words, a lone dash is none.
inline std::vector<std::string> spoken_words(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    const auto finish = [&] {
        const bool sounds = std::any_of(word.begin(), word.end(), [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        });
        if (sounds) words.push_back(word);
        word.clear();
    };
    for (const char c : text) {
        if (c == ' ' || c == '\n') {
            finish();
        } else {
            word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        }
    }
    finish();
    return words;
}

/// Groups of vowels, less a silent e; a digit counts one and a group of digits one more. Errs upward: a text is rather called too hard. Held against a dictionary in
/// readability_test.cpp.
inline int syllables(std::string_view word) {
    using Known = std::pair<std::string_view, int>;
    static constexpr std::array exceptions{
        Known{"pdf", 3},   Known{"°c", 3},     Known{"kpa", 4},      Known{"being", 2},
        Known{"dial", 2},  Known{"fluid", 2},  Known{"serial", 3},   Known{"residual-current", 6},
        Known{"wire", 2}};
    std::string letters;
    int digits = 0;
    int run = 0;
    for (const char c : word) {
        const bool digit = c >= '0' && c <= '9';
        if (digit) digits += c == '7' ? 2 : 1;
        run = digit ? run + 1 : 0;
        if (run == 2) ++digits;                // "forty-five", not "four five"
        if (c == '.' && digits > 0) ++digits;  // "point", if a digit follows; else one too many
        if (!(c >= '0' && c <= '9') && c != '.' && c != ',' && c != ':' && c != ';' && c != '?' &&
            c != '!' && c != '"' && c != '(' && c != ')')
            letters += c;
    }
    for (const auto& [known, count] : exceptions) {
        if (letters == known) return digits + count;
    }
    const auto vowel = [](char c) { return std::string_view{"aeiouy"}.find(c) != std::string_view::npos; };
    int count = 0;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        if (vowel(letters[i]) && (i == 0 || !vowel(letters[i - 1]))) ++count;
    }
    const std::string_view all = letters;
    const auto before = [&](std::size_t back) { return all.size() > back ? all[all.size() - 1 - back] : ' '; };
    const bool silent_e = all.ends_with('e') && !vowel(before(1)) && !(before(1) == 'l' && !vowel(before(2)));
    const bool silent_ed = all.ends_with("ed") && !vowel(before(2)) && before(2) != 't' && before(2) != 'd';
    const bool silent_es = all.ends_with("es") && !vowel(before(2)) &&
                           std::string_view{"sxzcg"}.find(before(2)) == std::string_view::npos &&
                           !(before(2) == 'h' && std::string_view{"cs"}.find(before(3)) != std::string_view::npos);
    if (count > 1 && (silent_e || silent_ed || silent_es)) --count;
    return std::max(digits + count, 1);
}

/// Parts that end in a full stop, a question mark or an exclamation mark before a space or the end.
inline std::vector<std::string> sentences_of(std::string_view text) {
    std::vector<std::string> all;
    std::string sentence;
    for (std::size_t i = 0; i < text.size(); ++i) {
        sentence += text[i];
        const bool stop = text[i] == '.' || text[i] == '?' || text[i] == '!';
        if (stop && (i + 1 == text.size() || text[i + 1] == ' ' || text[i + 1] == '\n')) {
            all.push_back(sentence);
            sentence.clear();
        }
    }
    if (!spoken_words(sentence).empty()) all.push_back(sentence);
    return all;
}

/// Grade = 0.39 words per sentence + 11.8 syllables per word − 15.59.
/// Source: Kincaid, Fishburne, Rogers & Chissom, Derivation of new readability formulas for Navy
/// enlisted personnel, Research Branch Report 8-75, Naval Technical Training, Millington 1975.
inline double flesch_kincaid_grade(const std::vector<std::string>& paragraphs) {
    double words = 0.0;
    double sentences = 0.0;
    double sounds = 0.0;
    for (const std::string& paragraph : paragraphs) {
        sentences += static_cast<double>(sentences_of(paragraph).size());
        for (const std::string& word : spoken_words(paragraph)) {
            words += 1.0;
            sounds += syllables(word);
        }
    }
    if (words == 0.0) return 0.0;
    return 0.39 * words / sentences + 11.8 * sounds / words - 15.59;
}

}  // namespace wm::handover::testing
