// Entries of readings over time.
#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "checklist/readings.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

constexpr std::size_t most_points = 5000;

using units::Amount;

// A value as written, until it is known which unit the bare ones take.
struct Written {
    std::string_view text;
    bool has_unit = false;
};

class SeriesReader {
public:
    SeriesReader(const Check& check, std::string_view text)
        : check_{check}, plan_{*check.series}, text_{text} {}

    Result<Answer> read() {
        for (const auto& channel : plan_.channels) table_.channels.push_back(as_name(channel));
        if (table_.channels.empty()) table_.channels.emplace_back("reading");
        for (const auto item : split_at(text_, ';'))
            if (auto problem = take(item)) return refused(*std::move(problem));
        if (auto problem = fill_rows()) return refused(*std::move(problem));
        answer_.points = std::move(table_);
        if (!mixed_) answer_.entered_in = unit_;
        return std::move(answer_);
    }

private:
    Problem unreadable(std::string what, std::string what_to_do) const {
        return {std::move(what), check_.id.text, std::move(what_to_do), ProblemKind::Unreadable};
    }

    std::string form() const {
        if (plan_.channels.empty())
            return "Write time=reading, separated by semicolons: \"0 min=480 kPa; 2 min=480\".";
        return fmt::format("Write each time with all channels: \"0 min: {}=…, {}=…; 5 min: …\".",
                           plan_.channels.front(), plan_.channels.back());
    }

    std::optional<Problem> take(std::string_view item) {
        if (item.empty()) return unreadable("A reading is missing between two semicolons.", form());
        const bool named_channels = !plan_.channels.empty();
        const auto colon = named_channels ? item.find(':') : std::string_view::npos;
        if (colon != std::string_view::npos)
            return take_row(item.substr(0, colon), item.substr(colon + 1));
        const auto equals = item.find('=');
        if (equals == std::string_view::npos)
            return unreadable(fmt::format("\"{}\" is no reading with its time.", item), form());
        const auto name = trimmed(item.substr(0, equals));
        const auto value = trimmed(item.substr(equals + 1));
        if (const auto* extra = extra_named(name)) return take_extra(*extra, value);
        if (named_channels)
            return unreadable(fmt::format("\"{}\" is no reading of this check.", name), form());
        return take_row(name, value);
    }

    const ExtraReading* extra_named(std::string_view name) const {
        const auto found =
            std::find_if(plan_.extras.begin(), plan_.extras.end(), [&](const ExtraReading& extra) {
                return lower_case(extra.name) == lower_case(name) || as_name(extra.name) == name;
            });
        return found == plan_.extras.end() ? nullptr : &*found;
    }

    std::optional<Problem> take_extra(const ExtraReading& extra, std::string_view text) {
        const auto value =
            units::read_amount(text, extra.unit, fmt::format("{}, {}", check_.id.text, extra.name));
        if (!value) return value.error();
        if (!answer_.extras.emplace(as_name(extra.name), value->amount()).second)
            return unreadable(fmt::format("\"{}\" is there twice.", extra.name), "Give it once.");
        return std::nullopt;
    }

    std::optional<Problem> take_row(std::string_view time_text, std::string_view values) {
        const auto time =
            units::read_amount(trimmed(time_text), *units::unit_named("min"), check_.id.text);
        if (!time) return unreadable(fmt::format("\"{}\" is no time.", trimmed(time_text)), form());
        const double seconds = time->amount().si;
        if (!table_.times_s.empty() && seconds <= table_.times_s.back())
            return unreadable(
                fmt::format("The time {} is not later than the one before it.", trimmed(time_text)),
                "Write the readings in the order in which they were taken.");
        if (table_.times_s.size() == most_points)
            return unreadable(fmt::format("The series has more than {} points.", most_points),
                              "Leave readings out.");
        table_.times_s.push_back(seconds);
        return plan_.channels.empty() ? take_values({values}) : take_channels(values);
    }

    // "riser=41,5 °C, downcomer=33": a comma that is followed by a digit is a decimal mark.
    static std::vector<std::string_view> channel_items(std::string_view text) {
        std::vector<std::string_view> items;
        std::size_t begin = 0;
        for (std::size_t at = 0; at < text.size(); ++at) {
            const bool decimal = at + 1 < text.size() && text[at + 1] >= '0' && text[at + 1] <= '9';
            if (text[at] != ',' || decimal) continue;
            items.push_back(trimmed(text.substr(begin, at - begin)));
            begin = at + 1;
        }
        items.push_back(trimmed(text.substr(begin)));
        return items;
    }

    std::optional<Problem> take_channels(std::string_view text) {
        std::vector<std::string_view> values(plan_.channels.size());
        for (const auto item : channel_items(text)) {
            const auto equals = item.find('=');
            const auto name = as_name(trimmed(item.substr(0, equals)));
            const auto found = std::find(table_.channels.begin(), table_.channels.end(), name);
            if (equals == std::string_view::npos || found == table_.channels.end())
                return unreadable(fmt::format("\"{}\" names no channel of this check.", item),
                                  fmt::format("The channels are {}.", listed(plan_.channels)));
            values[static_cast<std::size_t>(found - table_.channels.begin())] =
                trimmed(item.substr(equals + 1));
        }
        for (std::size_t i = 0; i < values.size(); ++i)
            if (values[i].empty())
                return unreadable(fmt::format("The channel {} is missing at one of the times.",
                                              plan_.channels[i]),
                                  form());
        return take_values(values);
    }

    std::optional<Problem> take_values(const std::vector<std::string_view>& values) {
        for (const auto value : values) {
            const auto text = trimmed(value);
            const bool bare = units::read_number(text).has_value();
            if (!bare) {
                const auto entered = units::read_any_amount(text, check_.id.text);
                if (!entered) return entered.error();
                if (unit_ && !(*unit_ == entered->unit)) mixed_ = true;
                unit_ = entered->unit;
            }
            written_.push_back({text, !bare});
        }
        return std::nullopt;
    }

    std::optional<Problem> fill_rows() {
        if (table_.times_s.empty()) return unreadable("The series has no reading.", form());
        const auto expected = check_.unit.value_or(units::Unit{});
        const auto for_bare = unit_.value_or(expected);
        std::vector<Amount> row;
        for (const auto& value : written_) {
            if (!value.has_unit && mixed_)
                return unreadable("Some readings have no unit, and the others have several.",
                                  "Write the unit behind each reading.");
            std::string text{value.text};
            if (!value.has_unit && !for_bare.symbol.empty())
                text += " " + std::string{for_bare.symbol};
            const auto entered = units::read_amount(text, expected, check_.id.text);
            if (!entered) return entered.error();
            row.push_back(entered->amount());
            if (row.size() < table_.channels.size()) continue;
            table_.rows.push_back(std::move(row));
            row.clear();
        }
        return std::nullopt;
    }

    const Check& check_;
    const SeriesPlan& plan_;
    std::string_view text_;
    PointTable table_;
    Answer answer_;
    std::vector<Written> written_;
    std::optional<units::Unit> unit_;
    bool mixed_ = false;
};

}  // namespace

Result<Answer> read_series(const Check& check, std::string_view text) {
    return SeriesReader{check, text}.read();
}

}  // namespace wm::checklist
