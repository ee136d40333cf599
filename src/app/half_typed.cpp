#include "app/half_typed.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "app/world.hpp"
#include "digest/box.hpp"
#include "digest/hash.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

digest::BoxKey box_of(const std::string& key, std::string_view job, std::string_view check) {
    return {key, fmt::format("half typed in {} {}", job, check)};
}

/// A sealed line: job, check and digits; nothing for any other text.
std::optional<std::array<std::string_view, 3>> sealed_parts(std::string_view text) {
    if (!text.ends_with('\n')) return std::nullopt;
    text.remove_suffix(1);
    const auto first = text.find('\t');
    if (first == std::string_view::npos) return std::nullopt;
    const auto second = text.find('\t', first + 1);
    constexpr std::string_view mark = "\tsealed\t";
    if (second == std::string_view::npos || !text.substr(second).starts_with(mark)) return std::nullopt;
    const auto digits = text.substr(second + mark.size());
    // A place called "sealed" has more behind it.
    if (digits.find('\t') != std::string_view::npos) return std::nullopt;
    return std::array{text.substr(0, first), text.substr(first + 1, second - first - 1), digits};
}

std::string text_in(const fs::path& file) {
    std::error_code problem;
    if (!fs::exists(file, problem)) return {};
    return read_file(file).value_or("");
}

tl::unexpected<Problem> not_opened(const fs::path& file) {
    return refused({"What was half typed when the window last ended cannot be opened, and is left out.", file.string(),
                    "Type it again. What was saved is not touched by it.", ProblemKind::Unreadable});
}

}  // namespace

Result<void> keep_half_typed(const fs::path& data, const screens::KeptNumber& number, const Sealing& sealing) {
    const fs::path file = data / half_typed_file;
    if (number.job.empty()) return write_file(file, "");
    if (sealing.key.empty()) return write_file(file, screens::written(number));
    const auto box = digest::lock(box_of(sealing.key, number.job, number.check), sealing.random(digest::box_nonce_bytes),
                                  screens::written(number));
    if (!box) return tl::unexpected(box.error());
    return write_file(file, fmt::format("{}\t{}\tsealed\t{}\n", number.job, number.check, digest::to_hex(*box)));
}

Result<std::optional<screens::KeptNumber>> read_half_typed(const fs::path& data, const std::string& sealing_key) {
    const fs::path file = data / half_typed_file;
    std::string text = text_in(file);
    if (text.empty()) return std::optional<screens::KeptNumber>{};
    if (const auto parts = sealed_parts(text)) {
        const auto box = digest::from_hex((*parts)[2]);
        if (!box || sealing_key.empty()) return not_opened(file);
        auto opened = digest::unlock(box_of(sealing_key, (*parts)[0], (*parts)[1]), *box, file.string());
        if (!opened) return not_opened(file);
        text = std::move(*opened);
    }
    auto number = screens::read_number_kept(text);
    if (!number) return not_opened(file);
    return number;
}

std::optional<screens::KeptNumber> place_of_half_typed(const fs::path& data) {
    const std::string text = text_in(data / half_typed_file);
    screens::KeptNumber place;
    if (const auto parts = sealed_parts(text)) {
        place.job = (*parts)[0];
        place.check = (*parts)[1];
        return place;
    }
    const auto number = screens::read_number_kept(text);
    if (!number) return std::nullopt;
    place.job = number->job;
    place.check = number->check;
    return place;
}

Result<void> seal_half_typed(const fs::path& data, const Sealing& sealing) {
    const std::string text = text_in(data / half_typed_file);
    if (sealing.key.empty() || text.empty() || sealed_parts(text)) return {};
    // What cannot be read is nobody's draft, and may hold anything.
    const auto number = screens::read_number_kept(text);
    return keep_half_typed(data, number.value_or(screens::KeptNumber{}), sealing);
}

}  // namespace wm::app
