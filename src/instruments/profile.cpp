#include "instruments/profile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "checklist/document.hpp"
#include "checklist/findings.hpp"
#include "checklist/table_reader.hpp"
#include "digest/hash.hpp"
#include "units/reading.hpp"

namespace wm::instruments {

namespace {

using checklist::TableReader;

template <class T, std::size_t N>
using Words = std::array<std::pair<std::string_view, T>, N>;

constexpr Words<Protocol, 4> protocols{{{"modbus-rtu", Protocol::ModbusRtu},
                                        {"modbus-tcp", Protocol::ModbusTcp},
                                        {"scpi", Protocol::Scpi},
                                        {"line", Protocol::Line}}};
constexpr Words<Parity, 3> parities{{{"none", Parity::None}, {"even", Parity::Even}, {"odd", Parity::Odd}}};
constexpr Words<RegisterTable, 2> tables{{{"holding", RegisterTable::Holding}, {"input", RegisterTable::Input}}};
constexpr Words<RegisterForm, 5> forms{{{"int16", RegisterForm::Int16},
                                        {"uint16", RegisterForm::Uint16},
                                        {"int32", RegisterForm::Int32},
                                        {"uint32", RegisterForm::Uint32},
                                        {"float32", RegisterForm::Float32}}};
constexpr Words<WordOrder, 2> orders{{{"high first", WordOrder::HighFirst}, {"low first", WordOrder::LowFirst}}};
constexpr Words<SerialForm, 2> serial_forms{{{"text", SerialForm::Text}, {"number", SerialForm::Number}}};

template <class T, std::size_t N>
std::string_view word_of(const Words<T, N>& words, T meant) {
    return std::find_if(words.begin(), words.end(), [&](const auto& each) { return each.second == meant; })->first;
}

/// The word of the key, one of the list; `otherwise` where the key is left out.
template <class T, std::size_t N>
T choice(TableReader& table, std::string_view key, const Words<T, N>& words, T otherwise) {
    const auto text = table.text_if(key);
    if (!text) return otherwise;
    for (const auto& [word, meant] : words)
        if (word == *text) return meant;
    std::string all;
    for (const auto& [word, meant] : words) all += fmt::format("{}\"{}\"", all.empty() ? "" : ", ", word);
    table.error(key, fmt::format("{} of {} is \"{}\"", key, table.whose(), *text), fmt::format("Write one of {}.", all));
    return otherwise;
}

int whole_within(TableReader& table, std::string_view key, int least, int most, int otherwise) {
    const auto number = table.whole(key);
    if (!number) return otherwise;
    if (*number < least || *number > most)
        table.error(key, fmt::format("{} of {} is {}", key, table.whose(), *number), fmt::format("Give a whole number from {} to {}.", least, most));
    return std::clamp(*number, least, most);
}

int milliseconds(TableReader& table, std::string_view key, int least, int most, int otherwise) {
    const auto text = table.text_if(key);
    if (!text) return otherwise;
    const auto amount = units::read_amount(*text, *units::unit_named("s"), key);
    const double ms = amount ? amount->amount().si * 1000.0 : -1.0;
    if (!(ms >= least && ms <= most)) {
        table.error(key, fmt::format("{} of {} is \"{}\"", key, table.whose(), *text),
                    fmt::format("Give a time from {} ms to {} s, as \"500 ms\".", least, most / 1000));
        return otherwise;
    }
    return static_cast<int>(std::lround(ms));
}

SerialSettings read_serial(TableReader& table) {
    SerialSettings serial;
    // What every driver knows; another figure would silently become one of these.
    constexpr std::array bauds{1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};
    serial.baud = whole_within(table, "baud", bauds.front(), bauds.back(), serial.baud);
    if (std::find(bauds.begin(), bauds.end(), serial.baud) == bauds.end())
        table.error("baud", fmt::format("baud of {} is {}", table.whose(), serial.baud),
                    "Write one of 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200.");
    serial.parity = choice(table, "parity", parities, serial.parity);
    serial.data_bits = whole_within(table, "data_bits", 7, 8, serial.data_bits);
    serial.stop_bits = whole_within(table, "stop_bits", 1, 2, serial.stop_bits);
    return serial;
}

int registers_of(RegisterForm form) { return form == RegisterForm::Int16 || form == RegisterForm::Uint16 ? 1 : 2; }

/// One request may ask for 125 registers, and addresses end at 65535 (Application Protocol V1.1b3, 6.3 and 4.4).
void refuse_beyond_end(TableReader& table, std::string_view key, const RegisterRow& row) {
    if (row.first + row.count > 65536)
        table.error(key, fmt::format("{} of {} reaches beyond register 65535", key, table.whose()), "Count registers from 0, as on the wire.");
}

ModbusQuestion read_modbus(TableReader& table, Protocol protocol) {
    ModbusQuestion question;
    const bool is_tcp = protocol == Protocol::ModbusTcp;
    // 0 is for all at once on a cable, and nobody answers that.
    question.address = whole_within(table, "address", is_tcp ? 0 : 1, is_tcp ? 255 : 247, is_tcp ? 255 : 1);
    question.form = choice(table, "form", forms, question.form);
    question.words = choice(table, "words", orders, question.words);
    question.reading.table = choice(table, "table", tables, question.reading.table);
    if (table.find("register") == nullptr)
        table.error("register", fmt::format("{} has no register", table.whose()), "Add register = …, counted from 0 as on the wire.");
    question.reading.first = whole_within(table, "register", 0, 65535, 0);
    question.reading.count = registers_of(question.form);
    refuse_beyond_end(table, "register", question.reading);
    question.no_reading = table.number("no_reading");
    if (table.find("serial_register") != nullptr) {
        RegisterRow row{question.reading.table, whole_within(table, "serial_register", 0, 65535, 0), whole_within(table, "serial_count", 1, 125, 1)};
        question.serial_form = choice(table, "serial_form", serial_forms, question.serial_form);
        if (question.serial_form == SerialForm::Number && row.count > 2)
            table.error("serial_count", fmt::format("a serial number of {} registers is no number", row.count), "Write serial_count = 1 or 2, or serial_form = \"text\".");
        row.table = choice(table, "serial_table", tables, row.table);
        refuse_beyond_end(table, "serial_register", row);
        question.serial = row;
    }
    return question;
}

bool is_printable(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char sign) { return sign >= ' ' && sign <= '~'; });
}

/// What goes out on the wire: a line end within it would be a second command.
std::string wire_text(TableReader& table, std::string_view key, std::string otherwise) {
    const auto text = table.text_if(key);
    if (!text) return otherwise;
    if (!is_printable(*text) || text->size() > 200)
        table.error(key, fmt::format("{} of {} holds a sign that cannot be sent in one line", key, table.whose()),
                    "Use up to 200 letters, digits and signs of ASCII, without a line end.");
    return *text;
}

ScpiQuestion read_scpi(TableReader& table) {
    ScpiQuestion question;
    question.reading = wire_text(table, "reading", "");
    if (question.reading.find('?') == std::string::npos)
        table.error("reading", fmt::format("reading of {} asks nothing", table.whose()), "Write the query with its ?, as \"MEAS:PRES?\".");
    question.identity = wire_text(table, "identity", question.identity);
    question.errors = wire_text(table, "errors", question.errors);
    return question;
}

void need_one(TableReader& table, std::string_view key, std::string_view pattern, std::string_view place) {
    const auto at = pattern.find(place);
    if (at == std::string_view::npos || pattern.find('{', at + 1) != std::string_view::npos || pattern.find('{') != at)
        table.error(key, fmt::format("{} of {} must hold {} once and no other brace", key, table.whose(), place),
                    fmt::format("Write what the instrument sends, with {} where it changes.", place));
}

LineQuestion read_line(TableReader& table) {
    LineQuestion question;
    question.ask = wire_text(table, "ask", "");
    question.reading = wire_text(table, "reading", "");
    need_one(table, "reading", question.reading, "{value}");
    question.ask_identity = wire_text(table, "ask_identity", "");
    question.identity = wire_text(table, "identity", "");
    if (!question.identity.empty()) need_one(table, "identity", question.identity, "{serial}");
    if (question.identity.empty() != question.ask_identity.empty())
        table.error("identity", fmt::format("{} has one of ask_identity and identity", table.whose()), "Write both, or neither.");
    constexpr Words<std::string_view, 3> ends{{{"CR LF", "\r\n"}, {"LF", "\n"}, {"CR", "\r"}}};
    question.line_end = choice(table, "line_end", ends, std::string_view{"\r\n"});
    return question;
}

void read_range(TableReader& file, Profile& profile) {
    const auto* range = file.find("plausible");
    const auto is_number = [](const checklist::Item& item) { return item.type == checklist::ItemType::Number || item.type == checklist::ItemType::Whole; };
    if (range == nullptr || range->items.size() != 2 || !std::all_of(range->items.begin(), range->items.end(), is_number) ||
        !(range->items[0].number < range->items[1].number)) {
        file.error("plausible", "the profile does not say what the instrument can show at all", "Write plausible = [least, most] in its unit.");
        return;
    }
    profile.least = range->items[0].number;
    profile.most = range->items[1].number;
}

void read_head(TableReader& file, Profile& profile) {
    profile.title = file.needed_text("title");
    if (file.needed_text("protocol").empty()) return;
    profile.protocol = choice(file, "protocol", protocols, profile.protocol);
    profile.instrument_type = file.needed_text("instrument_type");
    if (file.find("unit") == nullptr) file.error("unit", "the profile has no unit", "Add unit = \"kPa\", or whatever the instrument shows.");
    profile.unit = file.unit("unit").value_or(units::Unit{});
    if (file.find("decimals") == nullptr) file.error("decimals", "the profile has no decimals", "Add decimals = 1, as many as the instrument is good for.");
    profile.decimals = whole_within(file, "decimals", 0, 6, 0);
    profile.scale = file.number("scale").value_or(1.0);
    if (!std::isfinite(profile.scale) || profile.scale == 0.0)
        file.error("scale", "a scale of 0 makes every reading the same", "Write what one step of the number is worth, as scale = 0.1.");
    profile.offset = file.number("offset").value_or(0.0);
    read_range(file, profile);
    profile.settle_ms = milliseconds(file, "settle", 0, 60'000, profile.settle_ms);
    profile.timeout_ms = milliseconds(file, "timeout", 50, 60'000, profile.timeout_ms);
    profile.marks = file.words_by_name("marks");
}

}  // namespace

std::string_view in_words(Protocol protocol) { return word_of(protocols, protocol); }

Result<Profile> read_profile(std::string_view text, std::string_view file_name) {
    const auto document = checklist::read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    checklist::Findings findings{text};
    TableReader file{*document, "the profile", findings};
    Profile profile;
    profile.name = file_name;
    profile.sha256 = digest::sha256_hex(text);
    read_head(file, profile);
    if (const auto* table = file.table("serial")) {
        TableReader serial{*table, "[serial]", findings};
        profile.serial = read_serial(serial);
        serial.finish();
    }
    const bool is_modbus = profile.protocol == Protocol::ModbusRtu || profile.protocol == Protocol::ModbusTcp;
    const std::string_view wanted = is_modbus ? "modbus" : in_words(profile.protocol);
    // Which table is wanted is known only where the head is sound.
    if (findings.count() > 0) {
        static_cast<void>(file.find(wanted));
    } else if (const auto* table = file.table(wanted)) {
        TableReader own{*table, fmt::format("[{}]", wanted), findings};
        if (is_modbus) profile.modbus = read_modbus(own, profile.protocol);
        else if (profile.protocol == Protocol::Scpi) profile.scpi = read_scpi(own);
        else profile.line = read_line(own);
        own.finish();
    } else if (document->find(wanted) == nullptr) {
        findings.error(document->at, fmt::format("the profile has no table [{}]", wanted), "Say there what is asked, as the guide on profiles shows.");
    }
    file.finish();
    const auto found = findings.taken();
    if (found.empty()) return profile;
    return refused({found.front().what + ".", checklist::place_of(file_name, found.front().at), found.front().what_to_do, ProblemKind::Unreadable});
}

std::string mark_of(const Profile& profile, const std::string& serial) {
    const auto found = profile.marks.find(serial);
    return found == profile.marks.end() ? serial : found->second;
}

std::string told_meaning(const Profile& profile) {
    std::string from;
    switch (profile.protocol) {
        case Protocol::ModbusRtu:
        case Protocol::ModbusTcp: {
            const auto& question = profile.modbus;
            from = fmt::format("{} register {}, {}{}", word_of(tables, question.reading.table), question.reading.first, word_of(forms, question.form),
                               question.reading.count > 1 ? fmt::format(", {}", word_of(orders, question.words)) : "");
            break;
        }
        case Protocol::Scpi: from = fmt::format("answer to {}", profile.scpi.reading); break;
        case Protocol::Line: from = fmt::format("{{value}} of \"{}\"", profile.line.reading); break;
    }
    if (profile.scale != 1.0) from += fmt::format(", times {}", units::print_short(profile.scale, 12));
    if (profile.offset != 0.0) from += fmt::format(", plus {}", units::print_short(profile.offset, 12));
    return from + fmt::format(", in {}", profile.unit.symbol);
}

}  // namespace wm::instruments
