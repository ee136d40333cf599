// Spoils bytes in the ways that break readers: cut, doubled, swapped, grown, spliced with other inputs.
#pragma once

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

#include "problem/result.hpp"
#include "workout_mutants.hpp"

namespace wm::fuzz {

using testing::Dice;

/// All files of tests/fuzz/corpus/`name`, in the order of their names.
inline std::vector<std::string> corpus(std::string_view name) {
    namespace fs = std::filesystem;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator{fs::path{WM_SOURCE_DIR} / "tests/fuzz/corpus" / name})
        if (entry.is_regular_file()) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    std::vector<std::string> all;
    for (const auto& file : files) {
        std::ifstream in{file, std::ios::binary};
        all.emplace_back(std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{});
    }
    return all;
}

inline std::string corpus_file(std::string_view name) {
    std::ifstream in{std::filesystem::path{WM_SOURCE_DIR} / "tests/fuzz/corpus" / name, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

/// The corpus with each line as an input of its own.
inline std::vector<std::string> corpus_lines(std::string_view name) {
    std::vector<std::string> lines;
    for (const auto& text : corpus(name))
        for (std::size_t at = 0; at < text.size();) {
            const auto end = std::min(text.find('\n', at), text.size());
            if (end > at) lines.push_back(text.substr(at, end - at));
            at = end + 1;
        }
    return lines;
}

/// How many inputs to try: `usual` in the suite, WM_FUZZ_SCALE times as many where that is set.
inline std::size_t budget(std::size_t usual) {
    const char* scale = std::getenv("WM_FUZZ_SCALE");
    return scale == nullptr ? usual : usual * std::max(1UL, std::strtoul(scale, nullptr, 10));
}

/// Seconds for each run, its budget within them; WM_FUZZ_SECONDS, none without.
inline double seconds_each() {
    const char* given = std::getenv("WM_FUZZ_SECONDS");
    return given == nullptr ? 0.0 : std::strtod(given, nullptr);
}

/// Where each run begins; WM_FUZZ_SEED sets another.
inline std::uint64_t seed() {
    const char* given = std::getenv("WM_FUZZ_SEED");
    return given == nullptr ? 20261127 : std::strtoull(given, nullptr, 10);
}

inline std::string spoilt(std::string bytes, const std::vector<std::string>& others, Dice& dice) {
    static constexpr std::array<std::string_view, 34> tokens{
        "-", "0", "9", "1e308", "1e-400", "99999999999999999999", "-9223372036854775808", "NaN", "inf", ".", ",", "\"", "'",
        "\\", "\n", "\r\n", "\t", "\0", "{", "}", "[", "]", "[[", "(", ")", "=", "#", ";", "\xFF", "\xC3", "\xE2\x88\x92",
        "\xF0\x9F\x94\xA7", "\\uD800", "\"\"\""};
    for (std::size_t times = 1 + dice.below(4); times > 0; --times) {
        const std::size_t at = bytes.empty() ? 0 : dice.below(bytes.size());
        const std::size_t length = bytes.empty() ? 0 : std::min(bytes.size() - at, 1 + dice.below(1 + dice.below(64)));
        switch (dice.below(10)) {
            case 0:
                if (!bytes.empty()) bytes[at] = static_cast<char>(bytes[at] ^ (1 << dice.below(8)));
                break;
            case 1:
                if (!bytes.empty()) bytes[at] = static_cast<char>(dice.below(256));
                break;
            case 2: bytes.erase(at, length); break;
            case 3: bytes.insert(at, bytes.substr(at, length)); break;
            case 4: bytes.insert(at, tokens[dice.below(tokens.size())]); break;
            case 5: bytes.resize(at); break;
            case 6: {
                const auto& other = others[dice.below(others.size())];
                const std::size_t from = other.empty() ? 0 : dice.below(other.size());
                bytes = bytes.substr(0, at) + other.substr(from, 1 + dice.below(400));
                break;
            }
            case 7: {
                const std::string piece = bytes.substr(at, length);
                bytes.erase(at, length);
                bytes.insert(bytes.empty() ? 0 : dice.below(bytes.size() + 1), piece);
                break;
            }
            case 8: {
                // One piece many times: depth, length, width.
                const std::string piece = bytes.substr(at, std::min<std::size_t>(length, 8));
                std::string many;
                for (std::size_t i = dice.below(300); i > 0; --i) many += piece;
                bytes.insert(at, many);
                break;
            }
            default:
                if (at < bytes.size() && bytes[at] >= '0' && bytes[at] <= '9')
                    bytes[at] = static_cast<char>('0' + dice.below(10));
                else bytes.insert(at, std::string(1 + dice.below(3), static_cast<char>('0' + dice.below(10))));
        }
        if (bytes.size() > 300'000) bytes.resize(300'000);
    }
    return bytes;
}

inline std::string fault_of(const Problem& problem) {
    const bool told = !problem.what.empty() && !problem.where.empty() && !problem.what_to_do.empty();
    return told ? "" : "a refusal without what, where or what to do: " + problem.what;
}

template <class T>
std::string fault_of(const Result<T>& result) {
    return result ? std::string{} : fault_of(result.error());
}

inline std::string in_hex(std::string_view bytes) {
    static constexpr std::string_view digits = "0123456789abcdef";
    std::string hex;
    for (const char c : bytes.substr(0, 400)) {
        hex += digits[static_cast<unsigned char>(c) >> 4U];
        hex += digits[static_cast<unsigned char>(c) & 15U];
    }
    return hex;
}

/// What a reader makes of an input: "" or what is wrong with that.
using Try = std::function<std::string(const std::string&)>;

/// Replays the inputs, then spoils them so often. The seed and the number tell the input again.
inline void run(std::string_view name, const std::vector<std::string>& inputs, std::size_t usual, const Try& attempt) {
    REQUIRE_FALSE(inputs.empty());
    std::set<std::string> told;
    const auto look = [&](const std::string& input, std::size_t number) {
        const std::string fault = attempt(input);
        if (fault.empty() || !told.insert(fault.substr(0, 60)).second) return;
        FAIL_CHECK(name << ", input " << number << " of seed " << seed() << ": " << fault << "\n" << in_hex(input));
    };
    for (std::size_t i = 0; i < inputs.size(); ++i) look(inputs[i], i);
    Dice dice{seed()};
    const std::size_t least = budget(usual);
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>{seconds_each()};
    std::size_t runs = 0;
    for (; runs < least || std::chrono::steady_clock::now() < end; ++runs) look(spoilt(inputs[dice.below(inputs.size())], inputs, dice), runs);
    MESSAGE(name << ": " << inputs.size() << " inputs of the corpus, " << runs << " spoilt");
}

}  // namespace wm::fuzz
