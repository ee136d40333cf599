// What instruments send, and their profiles: spoilt bytes become no reading that another reader would not read, and no crash.
#include <cmath>
#include <cstdlib>

#include "fuzz/spoil.hpp"
#include "instruments/lines.hpp"
#include "instruments/modbus.hpp"
#include "instruments/profile.hpp"

using namespace wm;
using namespace wm::instruments;

namespace {

template <class T>
std::string fault_of(const Answer<T>& answer) {
    return answer ? std::string{} : fuzz::fault_of(answer.error().problem);
}

/// A frame that was taken says the same when it is built again from what was read out of it.
std::string try_frame(const std::string& bytes) {
    for (const RegisterRow row : {RegisterRow{RegisterTable::Input, 0, 1}, RegisterRow{RegisterTable::Holding, 100, 2}})
        for (const auto protocol : {Protocol::ModbusRtu, Protocol::ModbusTcp}) {
            const auto registers = registers_in_frame(bytes, protocol, 17, row, "a gauge");
            if (!registers) {
                if (auto fault = fault_of(registers); !fault.empty()) return fault;
                continue;
            }
            std::string answer{static_cast<char>(row.table == RegisterTable::Holding ? 3 : 4), static_cast<char>(row.count * 2)};
            for (const auto each : *registers) answer += {static_cast<char>(each >> 8U), static_cast<char>(each & 0xFFU)};
            if (bytes != (protocol == Protocol::ModbusRtu ? frame_for_cable(17, answer) : frame_for_network(17, answer)))
                return "a frame that is another when it is built again";
        }
    return "";
}

/// The C library is the second opinion on what is a number.
std::string try_number(const std::string& text) {
    const auto number = sent_number(text);
    if (!number) return "";
    std::string plain = text;
    std::replace(plain.begin(), plain.end(), ',', '.');
    char* end = nullptr;
    const double other = std::strtod(plain.c_str(), &end);
    while (*end == ' ' || *end == '\t') ++end;
    if (end != plain.c_str() + plain.size()) return "a number that the C library reads as none";
    return other == *number ? "" : "another number than the C library reads";
}

std::string try_line(const std::string& line) {
    for (const std::string pattern : {"PEAK {value} Nm", "{value} kPa", "SN {serial}"}) {
        const auto found = found_in(line, pattern);
        if (!found) continue;
        if (found->empty() || line.find(*found) == std::string::npos) return "a value that is not in the line";
        if (pattern.find("{value}") != std::string::npos && !sent_number(*found)) {
            // So large that it is no number any more: the reading is refused then.
            if (std::isfinite(std::strtod(found->c_str(), nullptr)) && found->find(',') == std::string::npos) return "a value that is no number";
        }
        // Where the number comes first, nothing may stand before it.
        if (pattern.starts_with("{") && line.substr(0, line.find(*found)).find_first_not_of(" \t") != std::string::npos)
            return "a number with noise before it";
    }
    return "";
}

}  // namespace

TEST_CASE("answers of instruments: spoilt, they are refused in words or read as others read them") {
    fuzz::run("answers of instruments", fuzz::corpus("instrument"), 40'000, [](const std::string& bytes) -> std::string {
        for (const auto& attempt : {try_frame, try_number, try_line})
            if (auto fault = attempt(bytes); !fault.empty()) return fault;
        const auto number = scpi_number(bytes, "a gauge");
        if (number && !(std::abs(*number) < 9.9e37)) return "a reading of an instrument that has none";
        for (const auto& fault : {fault_of(number), fault_of(scpi_serial(bytes, "a gauge")), fault_of(scpi_error(bytes, "a gauge"))})
            if (!fault.empty()) return fault;
        return "";
    });
}

TEST_CASE("profiles of instruments: spoilt, they are refused with file and line or hold what the wire can carry") {
    std::vector<std::string> profiles;
    for (const auto& entry : std::filesystem::directory_iterator{std::filesystem::path{WM_SOURCE_DIR} / "assets/instruments"}) {
        std::ifstream in{entry.path()};
        profiles.emplace_back(std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{});
    }
    std::sort(profiles.begin(), profiles.end());
    fuzz::run("profiles of instruments", profiles, 2'000, [](const std::string& text) -> std::string {
        const auto profile = read_profile(text, "gauge.toml");
        if (!profile) {
            if (!profile.error().where.starts_with("gauge.toml")) return "a fault without its place: " + profile.error().what;
            return fuzz::fault_of(profile);
        }
        const auto& asked = profile->modbus;
        if (asked.reading.first + asked.reading.count > 65536 || asked.reading.count > 2) return "registers beyond the end";
        if (asked.serial && (asked.serial->first + asked.serial->count > 65536 || asked.serial->count > 125)) return "a serial number beyond the end";
        if (!(profile->least < profile->most) || !std::isfinite(profile->scale) || profile->scale == 0.0) return "a range or scale that is none";
        if (profile->timeout_ms < 50 || profile->timeout_ms > 60'000) return "a wait without an end";
        for (const auto& sent : {profile->scpi.reading, profile->scpi.identity, profile->scpi.errors, profile->line.ask, profile->line.ask_identity})
            if (sent.find_first_of("\r\n") != std::string::npos) return "two commands in one";
        return "";
    });
}
