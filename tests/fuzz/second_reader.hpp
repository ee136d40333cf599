// What our readers made of each input, written down for a reader of other people: tests/fuzz/second_reader.py.
#pragma once

#include <cstdlib>
#include <fstream>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "fuzz/spoil.hpp"
#include "temporary_folder.hpp"

namespace wm::fuzz {

class SecondReader {
public:
    /// `kind` is one that second_reader.py knows. At most `most` rows are kept, of a soak so many times more.
    SecondReader(std::string kind, std::size_t most) : kind_{std::move(kind)}, left_{budget(most)} {}

    void add(const std::string& input, nlohmann::json ours) {
        if (left_ == 0) return;
        --left_;
        std::ofstream{folder_.path() / "rows", std::ios::app} << nlohmann::json{whole_hex(input), std::move(ours)}.dump() << '\n';
    }
    /// Reads all of it with the second reader, which must agree.
    void must_agree() const {
        const auto said = folder_.path() / "said";
        const std::string line = "/usr/bin/python3 " WM_SOURCE_DIR "/tests/fuzz/second_reader.py " + kind_ + " '" +
                                 (folder_.path() / "rows").string() + "' > '" + said.string() + "' 2>&1";
        const int code = std::system(line.c_str());
        std::ifstream in{said};
        const std::string words{std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
        CHECK_MESSAGE(code == 0, words);
        MESSAGE(words);
    }

    static std::string whole_hex(const std::string& bytes) {
        std::string hex;
        for (std::size_t at = 0; at < bytes.size(); at += 400) hex += in_hex(std::string_view{bytes}.substr(at));
        return hex;
    }

private:
    std::string kind_;
    std::size_t left_;
    TemporaryFolder folder_;
};

}  // namespace wm::fuzz
