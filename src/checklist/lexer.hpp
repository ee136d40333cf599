// The words of a tolerance expression.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/expression.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

enum class TokenKind { Number, Share, Word, Date, Name, Symbol, End };

/// One word of the text. Operators spelled in letters ("at", "least") are names here; the parser
/// puts them together.
struct Token {
    TokenKind kind = TokenKind::End;
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
    std::string text;  ///< a name, a symbol, a date, or what stands between the quotes
    units::Amount number{};
    units::Unit unit{};
};

/// The tokens of `text`, the last of them End. A number takes the unit behind it along.
[[nodiscard]] tl::expected<std::vector<Token>, Expression::Fault> tokens_of(std::string_view text);

/// Whether the name belongs to the language, so that no fact or unit can be called so.
[[nodiscard]] bool is_keyword(std::string_view name);

}  // namespace wm::checklist
