// Texts as small numbers: each text once, so that columns hold numbers and compare numbers.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace wm::audit {

/// The number of a text within its Names; numbers of two Names have nothing to do with each other.
using Code = std::uint32_t;

/// Numbers are given in the order in which texts come, from 0 on, and never change.
class Names {
public:
    Code of(std::string_view text) {
        if (const auto found = codes_.find(text); found != codes_.end()) return found->second;
        const auto code = static_cast<Code>(texts_.size());
        texts_.emplace_back(text);
        codes_.emplace(texts_.back(), code);
        return code;
    }
    [[nodiscard]] std::optional<Code> find(std::string_view text) const {
        const auto found = codes_.find(text);
        return found == codes_.end() ? std::nullopt : std::optional{found->second};
    }
    [[nodiscard]] const std::string& text(Code code) const { return texts_[code]; }
    [[nodiscard]] std::size_t size() const { return texts_.size(); }

private:
    struct Hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
    };
    std::vector<std::string> texts_;
    std::unordered_map<std::string, Code, Hash, std::equal_to<>> codes_;
};

}  // namespace wm::audit
