#include "instruments/reading.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <thread>

#include "digest/hash.hpp"
#include "instruments/lines.hpp"
#include "instruments/modbus.hpp"
#include "instruments/port.hpp"
#include "units/reading.hpp"

namespace wm::instruments {

namespace {

struct Told {
    double number = 0.0;
    std::string serial;
};

Answer<Told> by_modbus(const Profile& profile, const PortName& port, const std::string& where, std::vector<Exchange>& raw) {
    const auto& question = profile.modbus;
    std::vector<RegisterRow> rows;
    if (question.serial) rows.push_back(*question.serial);
    rows.push_back(question.reading);
    const auto answers = ask_registers(profile, port, where, rows, raw);
    if (!answers) return tl::unexpected(answers.error());
    Told told{.number = number_in(answers->back(), question.form, question.words), .serial = ""};
    if (question.serial) told.serial = serial_in(answers->front(), question.serial_form, question.words);
    if (question.no_reading && told.number == *question.no_reading)
        return no_answer("The instrument has no reading: it sends the number that stands for none.", where, "Look at its probe and its range.", Again::No);
    return told;
}

/// One question, its answer read out of the lines that come; asked a second time where it was disturbed. Lines that are no
/// answer (an echo of the question, noise) are passed over while the time lasts.
class Conversation {
public:
    Conversation(Port port, const Profile& profile, std::string where, std::vector<Exchange>& raw)
        : port_{std::move(port)}, profile_{profile}, where_{std::move(where)}, raw_{raw} {}

    template <class T, class Read>
    Answer<T> ask(const std::string& question, Read read) {
        auto answer = ask_once<T>(question, read);
        if (!answer && answer.error().again == Again::Yes) answer = ask_once<T>(question, read);
        return answer;
    }

    Answer<void> tell(const std::string& command) {
        raw_.push_back({command, ""});
        return port_.send(command, Deadline{profile_.timeout_ms});
    }

private:
    template <class T, class Read>
    Answer<T> ask_once(const std::string& question, Read read) {
        const Deadline until{profile_.timeout_ms};
        port_.forget_input();
        raw_.push_back({question, ""});
        if (const auto sent = port_.send(question, until); !sent) return tl::unexpected(sent.error());
        // Without a question we fall into the middle of a line.
        bool is_whole = !question.empty();
        Answer<T> last = tl::unexpected(Fault{});
        for (bool any = false;; any = true) {
            const auto line = port_.line(until, raw_.back().received);
            if (!line) {
                const bool is_silence = line.error().again == Again::Yes;
                return any && is_silence && is_whole && !last.error().problem.what.empty() ? last : tl::unexpected(line.error());
            }
            if (is_whole) last = read(*line);
            is_whole = true;
            if (last || (last.error().again == Again::No && !last.error().problem.what.empty())) return last;
        }
    }

    Port port_;
    const Profile& profile_;
    std::string where_;
    std::vector<Exchange>& raw_;
};

Answer<Told> by_scpi(Conversation& with, const Profile& profile, const std::string& where) {
    const auto& question = profile.scpi;
    Told told;
    if (!question.identity.empty()) {
        auto serial = with.ask<std::string>(question.identity + "\n", [&](const std::string& line) { return scpi_serial(line, where); });
        if (!serial) return tl::unexpected(serial.error());
        told.serial = std::move(*serial);
    }
    // What an earlier user left in the list of errors is not ours.
    if (!question.errors.empty())
        if (const auto cleared = with.tell("*CLS\n"); !cleared) return tl::unexpected(cleared.error());
    const auto look = [&] { return with.ask<void>(question.errors + "\n", [&](const std::string& line) { return scpi_error(line, where); }); };
    const auto number = with.ask<double>(question.reading + "\n", [&](const std::string& line) { return scpi_number(line, where); });
    if (!number) {
        // A query it does not know is met with silence; the list of errors says why.
        if (number.error().again == Again::Yes && !question.errors.empty())
            if (auto why = look(); !why && why.error().again == Again::No) return tl::unexpected(why.error());
        return tl::unexpected(number.error());
    }
    told.number = *number;
    if (!question.errors.empty())
        if (const auto fine = look(); !fine) return tl::unexpected(fine.error());
    return told;
}

Answer<std::string> by_pattern(const std::string& line, const std::string& pattern, const std::string& where) {
    if (auto found = found_in(line, pattern)) return *found;
    return no_answer(fmt::format("The instrument sent \"{}\", which is not \"{}\".", shown_bytes(line), pattern), where,
                     "Compare speed and parity, and the pattern of the profile with what the instrument sends.", Again::Yes);
}

Answer<Told> by_lines(Conversation& with, const Profile& profile, const std::string& where) {
    const auto& question = profile.line;
    const auto asked = [&](const std::string& words, const std::string& pattern) {
        return with.ask<std::string>(words.empty() ? "" : words + question.line_end, [&](const std::string& line) { return by_pattern(line, pattern, where); });
    };
    Told told;
    if (!question.identity.empty()) {
        auto serial = asked(question.ask_identity, question.identity);
        if (!serial) return tl::unexpected(serial.error());
        told.serial = std::move(*serial);
    }
    const auto value = asked(question.ask, question.reading);
    if (!value) return tl::unexpected(value.error());
    const auto number = sent_number(*value);
    if (!number) return by_pattern(*value, question.reading, where).map([](const std::string&) { return Told{}; });
    told.number = *number;
    return told;
}

Answer<Told> asked(const Profile& profile, const PortName& name, const std::string& where, std::vector<Exchange>& raw) {
    if (profile.protocol == Protocol::ModbusRtu || profile.protocol == Protocol::ModbusTcp) return by_modbus(profile, name, where, raw);
    auto port = Port::open(name, profile.serial, profile.timeout_ms, where);
    if (!port) return tl::unexpected(port.error());
    std::this_thread::sleep_for(std::chrono::milliseconds{profile.settle_ms});
    Conversation with{std::move(*port), profile, where, raw};
    return profile.protocol == Protocol::Scpi ? by_scpi(with, profile, where) : by_lines(with, profile, where);
}

}  // namespace

Result<Shown> read_instrument(const Profile& profile, std::string_view port) {
    const auto name = read_port_name(port);
    if (!name) return tl::unexpected(name.error());
    const std::string where = fmt::format("{} at {}", profile.title, name->told());
    if (profile.protocol == Protocol::ModbusRtu && name->device.empty())
        return refused({"Modbus RTU goes over a cable, and this is the address of a host.", where, "Name a device such as /dev/ttyUSB0.", ProblemKind::WrongUse});
    if (profile.protocol == Protocol::ModbusTcp && !name->device.empty())
        return refused({"Modbus TCP goes over a network, and this is a device.", where, "Name a host with its port, as 10.0.0.7:502.", ProblemKind::WrongUse});
    Shown shown;
    const auto told = asked(profile, *name, where, shown.raw);
    if (!told) return refused(told.error().problem);
    shown.value = told->number * profile.scale + profile.offset;
    if (!std::isfinite(shown.value) || shown.value < profile.least || shown.value > profile.most)
        return refused({fmt::format("The instrument shows {}, which it cannot: its range is {} to {} {}.", units::print_short(shown.value), units::print_short(profile.least),
                                    units::print_short(profile.most), profile.unit.symbol),
                        where, "Look at its probe, and at form, words, scale and unit of its profile.", ProblemKind::Unreadable});
    shown.text = units::print_amount(shown.value, profile.decimals, profile.unit);
    shown.serial = told->serial;
    shown.mark = told->serial.empty() ? "" : mark_of(profile, told->serial);
    return shown;
}

std::string evidence_of(const Profile& profile, std::string_view port, const Shown& shown, std::string_view read_at) {
    std::string text = fmt::format("shown: {}\nread at: {}\nport: {}\nprofile: {}, SHA-256 {}\nmeaning: {} ({})\n", shown.text, read_at, port, profile.title,
                                   profile.sha256, told_meaning(profile), in_words(profile.protocol));
    if (!shown.serial.empty()) text += fmt::format("serial number: {}\n", shown.serial);
    for (const auto& exchange : shown.raw) {
        text += fmt::format("sent: {}\n", digest::to_hex(exchange.sent));
        text += fmt::format("received: {}\n", digest::to_hex(exchange.received));
    }
    return text;
}

}  // namespace wm::instruments
