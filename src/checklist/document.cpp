// TOML into the plain tree.
#include "checklist/document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "checklist/document_guard.hpp"

namespace wm::checklist {
namespace {

/// The library met a text its authors thought impossible, "[=]" for one.
struct UnexpectedText {};

[[noreturn]] void stop_at_unexpected_text() {
    throw UnexpectedText{};
}

}  // namespace
}  // namespace wm::checklist

// The library (3.3) states what it takes for granted in assertions, and hostile texts break them:
// it would stop the program, and with NDEBUG go on undefined. Here they become an exception
// instead. Without exceptions of its own its parser lies in a namespace that no other file of ours
// uses, so that the linker cannot put a parser with plain assertions in the place of this one.
#undef NDEBUG
#define TOML_ASSERT(expr) ((expr) ? void() : wm::checklist::stop_at_unexpected_text())
#define TOML_EXCEPTIONS 0
#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include "units/reading.hpp"

namespace wm::checklist {
namespace {

constexpr std::size_t most_bytes = 2'000'000;
constexpr int most_levels = 32;

Position position_of(const toml::source_region& region) {
    return {static_cast<std::uint32_t>(region.begin.line),
            static_cast<std::uint32_t>(region.begin.column)};
}

class Converter {
public:
    explicit Converter(std::string_view file_name) : file_name_{file_name} {}

    Result<Item> item(const toml::node& node, int level) {
        Item item;
        item.at = position_of(node.source());
        if (level > most_levels) {
            return refused({fmt::format("Tables are nested more than {} deep.", most_levels),
                            place_of(file_name_, item.at), "Write the content flatter.",
                            ProblemKind::Unreadable});
        }
        if (const auto* table = node.as_table()) return fill_table(std::move(item), *table, level);
        if (const auto* array = node.as_array()) return fill_list(std::move(item), *array, level);
        fill_value(item, node);
        return item;
    }

private:
    Result<Item> fill_table(Item item, const toml::table& table, int level) {
        item.type = ItemType::Table;
        std::vector<std::pair<std::string, Item>> entries;
        for (const auto& [key, value] : table) {
            auto inner = this->item(value, level + 1);
            if (!inner) return inner;
            // The place of a table made by a dotted key is that of the key itself.
            if (inner->at.line == 0) inner->at = position_of(key.source());
            entries.emplace_back(std::string{key.str()}, *std::move(inner));
        }
        std::stable_sort(entries.begin(), entries.end(), [](const auto& a, const auto& b) {
            return std::pair{a.second.at.line, a.second.at.column} <
                   std::pair{b.second.at.line, b.second.at.column};
        });
        item.entries = std::move(entries);
        return item;
    }

    Result<Item> fill_list(Item item, const toml::array& array, int level) {
        item.type = ItemType::List;
        for (const auto& value : array) {
            auto inner = this->item(value, level + 1);
            if (!inner) return inner;
            item.items.push_back(*std::move(inner));
        }
        return item;
    }

    static void fill_value(Item& item, const toml::node& node) {
        if (const auto* text = node.as_string()) {
            item.type = ItemType::Text;
            item.text = text->get();
        } else if (const auto* whole = node.as_integer()) {
            item.type = ItemType::Whole;
            item.number = static_cast<double>(whole->get());
            item.text = fmt::format("{}", whole->get());
        } else if (const auto* number = node.as_floating_point()) {
            item.type = ItemType::Number;
            item.number = number->get();
            item.text = fmt::format("{}", number->get());
        } else if (const auto* truth = node.as_boolean()) {
            item.type = ItemType::YesNo;
            item.yes = truth->get();
            item.text = item.yes ? "yes" : "no";
        } else if (const auto* day = node.as_date()) {
            item.type = ItemType::Date;
            const auto& date = day->get();
            item.text = fmt::format("{:04}-{:02}-{:02}", date.year, int{date.month}, int{date.day});
        }
    }

    std::string_view file_name_;
};

}  // namespace

std::string_view in_words(ItemType type) {
    switch (type) {
        case ItemType::Table:
            return "a table";
        case ItemType::List:
            return "a list";
        case ItemType::Text:
            return "a text";
        case ItemType::Number:
            return "a number";
        case ItemType::Whole:
            return "a whole number";
        case ItemType::YesNo:
            return "true or false";
        case ItemType::Date:
            return "a date";
        case ItemType::Other:
            return "a time";
    }
    return "a value";
}

const Item* Item::find(std::string_view key) const {
    const auto found = std::find_if(entries.begin(), entries.end(),
                                    [&](const auto& entry) { return entry.first == key; });
    return found == entries.end() ? nullptr : &found->second;
}

std::string place_of(std::string_view file_name, Position at) {
    if (at.line == 0) return std::string{file_name};
    return fmt::format("{}:{}:{}", file_name, at.line, at.column);
}

Result<Item> read_document(std::string_view text, std::string_view file_name) {
    if (text.size() > most_bytes) {
        return refused({fmt::format("The text is larger than {} bytes.", most_bytes),
                        std::string{file_name}, "Split it into smaller files.",
                        ProblemKind::Unreadable});
    }
    if (auto block = stumbling_block(text)) {
        return refused({std::move(block->what), place_of(file_name, block->at),
                        std::move(block->what_to_do), ProblemKind::Unreadable});
    }
    try {
        const auto parsed = toml::parse(text, file_name);
        if (parsed) return Converter{file_name}.item(parsed.table(), 0);
        const auto& error = parsed.error();
        return refused(
            {fmt::format("The text cannot be read as TOML: {}.", error.description()),
             place_of(file_name, position_of(error.source())),
             "Look at this line and the one before it for a missing quote, bracket or comma.",
             ProblemKind::Unreadable});
    } catch (const UnexpectedText&) {
        return refused({"The text cannot be read as TOML.", std::string{file_name},
                        "Look for a line that begins with [ and does not go on with a name.",
                        ProblemKind::Unreadable});
    }
}

}  // namespace wm::checklist
