#include "desk/part_code.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "handover/square_code.hpp"

namespace wm::desk {

namespace {

constexpr std::string_view mark = "WM-PART ";

}  // namespace

std::string part_code(const CodedPart& part) { return fmt::format("{}{} {}", mark, part.job, part.part); }

std::optional<CodedPart> part_in_code(std::string_view text) {
    if (!text.starts_with(mark)) return std::nullopt;
    text.remove_prefix(mark.size());
    const auto blank = text.find(' ');
    if (blank == 0 || blank == std::string_view::npos || blank + 1 == text.size() || text.find(' ', blank + 1) != std::string_view::npos)
        return std::nullopt;
    return CodedPart{std::string{text.substr(0, blank)}, std::string{text.substr(blank + 1)}};
}

Result<CodedPart> part_in_picture(std::string_view picture, std::string_view name) {
    const auto codes = handover::read_square_codes(picture, name);
    if (!codes) return tl::unexpected(codes.error());
    const std::string where = fmt::format("picture {}", name);
    const auto aimed = codes->size() == 1 ? codes->begin()
                                          : std::find_if(codes->begin(), codes->end(), [](const auto& code) { return code.is_on_middle; });
    if (aimed == codes->end())
        return refused({fmt::format("{} codes stand in this picture, and none of them on its middle.", codes->size()), where,
                        "Take it so that the code of the part is in the middle.", ProblemKind::Unreadable});
    auto part = part_in_code(aimed->text);
    if (!part)
        return refused({"This is not the code of a part from the sheet.", where, "Take the code that stands beside the part.", ProblemKind::Unreadable});
    return *std::move(part);
}

}  // namespace wm::desk
