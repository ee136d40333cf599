#include "instruments/modbus.hpp"

#include <fmt/format.h>
#include <modbus/modbus.h>

#include <array>
#include <bit>
#include <cerrno>
#include <chrono>
#include <memory>
#include <thread>

namespace wm::instruments {

namespace {

std::uint8_t byte_at(std::string_view bytes, std::size_t at) { return static_cast<std::uint8_t>(bytes[at]); }

std::uint16_t word_at(std::string_view bytes, std::size_t at) {
    return static_cast<std::uint16_t>((byte_at(bytes, at) << 8U) | byte_at(bytes, at + 1));
}

void put_word(std::string& bytes, unsigned word) {
    bytes += static_cast<char>((word >> 8U) & 0xFFU);
    bytes += static_cast<char>(word & 0xFFU);
}

std::uint8_t function_of(const RegisterRow& row) { return row.table == RegisterTable::Holding ? 3 : 4; }

std::uint32_t two_words(std::span<const std::uint16_t> registers, WordOrder words) {
    const std::uint32_t first = registers[0], second = registers[1];
    return words == WordOrder::HighFirst ? (first << 16U) | second : (second << 16U) | first;
}

/// Application Protocol V1.1b3, section 7.
tl::unexpected<Fault> exception_in_words(std::uint8_t code, const std::string& where) {
    const auto said = [&](const char* what, const char* what_to_do, Again again) { return no_answer(what, where, what_to_do, again); };
    switch (code) {
        case 1:
            return said("The instrument does not know this question (exception 01, illegal function).",
                        "Compare table = \"holding\" or \"input\" of the profile with the instrument's papers.", Again::No);
        case 2:
            return said("The instrument has no such register (exception 02, illegal data address).",
                        "Compare the register of the profile with the instrument's papers; it counts from 0 as on the wire.", Again::No);
        case 3:
            return said("The instrument does not take this count of registers (exception 03, illegal data value).",
                        "Compare form and counts of the profile with the instrument's papers.", Again::No);
        case 4:
            return said("The instrument says that it broke down (exception 04, server device failure).", "Switch it off and on; if it stays so, take another.",
                        Again::No);
        case 5:
            return said("The instrument took the question and works on it (exception 05, acknowledge).", "Read again in a while.", Again::Yes);
        case 6: return said("The instrument is busy (exception 06, server device busy).", "Read again in a while.", Again::Yes);
        case 8:
            return said("The instrument found its memory damaged (exception 08, memory parity error).", "Take another one; this one needs repair.", Again::No);
        case 10:
            return said("The gateway has no way to the instrument (exception 0A, gateway path unavailable).", "Look at the gateway's settings and its load.",
                        Again::No);
        case 11:
            return said("The instrument behind the gateway does not answer (exception 0B, gateway target device failed to respond).",
                        "Look whether the instrument is on, and at its address.", Again::Yes);
        default:
            return no_answer(fmt::format("The instrument refuses with exception {:02X}, which the protocol does not name.", code), where,
                             "Look it up in the instrument's papers.", Again::No);
    }
}

tl::unexpected<Fault> disturbed(std::string what, const std::string& where) {
    return no_answer(std::move(what), where, "Look at cable, speed and parity, and whether two instruments have one address.", Again::Yes);
}

struct Free {
    void operator()(modbus_t* link) const {
        modbus_close(link);
        modbus_free(link);
    }
};
using Link = std::unique_ptr<modbus_t, Free>;

char letter_of(Parity parity) { return parity == Parity::None ? 'N' : parity == Parity::Even ? 'E' : 'O'; }

Answer<Link> connected(const Profile& profile, const PortName& port, const std::string& where) {
    const bool is_cable = profile.protocol == Protocol::ModbusRtu;
    if (is_cable) {
        // The library says of a port that will not open only that; ours says why.
        const auto tried = Port::open(port, profile.serial, profile.timeout_ms, where);
        if (!tried) return tl::unexpected(tried.error());
    }
    const auto& serial = profile.serial;
    Link link{is_cable ? modbus_new_rtu(port.device.c_str(), serial.baud, letter_of(serial.parity), serial.data_bits, serial.stop_bits)
                       : modbus_new_tcp_pi(port.host.c_str(), port.service.c_str())};
    if (link == nullptr || modbus_set_slave(link.get(), profile.modbus.address) != 0)
        return no_answer("This port cannot be used for Modbus.", where, "Compare port and address with the profile.", Again::No);
    modbus_set_response_timeout(link.get(), static_cast<std::uint32_t>(profile.timeout_ms / 1000), static_cast<std::uint32_t>(profile.timeout_ms % 1000) * 1000U);
    // 0: no time of its own for each byte, so that the time for the answer holds for all of it.
    modbus_set_byte_timeout(link.get(), 0, 0);
    if (modbus_connect(link.get()) != 0)
        return no_answer(is_cable ? "The port cannot be set as the profile says." : "Nothing answers at this address.", where,
                         "Look whether the instrument is on and plugged in, and at speed or network.", Again::No);
    return link;
}

tl::unexpected<Fault> fault_of(int error, const Profile& profile, const std::string& where) {
    if (error == ETIMEDOUT)
        return no_answer(fmt::format("The instrument gave no whole answer within {} ms.", profile.timeout_ms), where,
                         "Look whether it is on, and whether speed and address are as in its profile.", Again::Yes);
    if (error == EMBBADCRC) return disturbed("The answer was disturbed on its way: its check sum is wrong.", where);
    if (error == EMBBADDATA || error == EMBMDATA) return disturbed("The answer is longer than any may be.", where);
    return no_answer("The instrument is gone: its port was closed.", where, "Plug it in again, or type the reading.", Again::No);
}

Answer<std::vector<std::uint16_t>> ask_once(modbus_t* link, const Profile& profile, const std::string& where, const RegisterRow& row,
                                            std::vector<Exchange>& raw) {
    const int address = profile.modbus.address;
    const std::string request = request_for(row);
    std::vector<std::uint8_t> question{static_cast<std::uint8_t>(address)};
    question.insert(question.end(), request.begin(), request.end());
    modbus_flush(link);
    if (modbus_send_raw_request(link, question.data(), static_cast<int>(question.size())) < 0) return fault_of(errno, profile, where);
    const bool is_cable = profile.protocol == Protocol::ModbusRtu;
    raw.push_back({is_cable ? frame_for_cable(address, request) : frame_for_network(address, request), ""});
    std::array<std::uint8_t, MODBUS_MAX_ADU_LENGTH> answer{};
    const int size = modbus_receive_confirmation(link, answer.data());
    if (size < 0) return fault_of(errno, profile, where);
    if (size == 0) return disturbed("Another instrument answered than the one that was asked.", where);
    raw.back().received.assign(answer.begin(), answer.begin() + size);
    return registers_in_frame(raw.back().received, profile.protocol, address, row, where);
}

}  // namespace

std::uint16_t crc16(std::string_view bytes) {
    std::uint16_t crc = 0xFFFF;
    for (const char byte : bytes) {
        crc = static_cast<std::uint16_t>(crc ^ static_cast<std::uint8_t>(byte));
        for (int bit = 0; bit < 8; ++bit) crc = static_cast<std::uint16_t>((crc & 1U) != 0 ? (crc >> 1U) ^ 0xA001U : crc >> 1U);
    }
    return crc;
}

std::string request_for(const RegisterRow& row) {
    std::string request(1, static_cast<char>(function_of(row)));
    put_word(request, static_cast<unsigned>(row.first));
    put_word(request, static_cast<unsigned>(row.count));
    return request;
}

std::string frame_for_cable(int address, std::string_view request) {
    std::string frame(1, static_cast<char>(address));
    frame += request;
    const auto crc = crc16(frame);
    frame += static_cast<char>(crc & 0xFFU);
    frame += static_cast<char>(crc >> 8U);
    return frame;
}

std::string frame_for_network(int address, std::string_view request) {
    std::string frame;
    put_word(frame, 0);
    put_word(frame, 0);
    put_word(frame, static_cast<unsigned>(request.size() + 1));
    frame += static_cast<char>(address);
    return frame.append(request);
}

Answer<std::vector<std::uint16_t>> registers_in(std::string_view answer, const RegisterRow& row, const std::string& where) {
    const std::uint8_t function = function_of(row);
    if (answer.size() == 2 && byte_at(answer, 0) == (function | 0x80U)) return exception_in_words(byte_at(answer, 1), where);
    const std::size_t wanted = static_cast<std::size_t>(row.count) * 2;
    if (answer.size() < 2 || byte_at(answer, 0) != function) return disturbed("What came is no answer to the question.", where);
    if (byte_at(answer, 1) != wanted || answer.size() != wanted + 2)
        return disturbed(fmt::format("The answer holds {} bytes of registers where {} were asked for.", answer.size() - 2, wanted), where);
    std::vector<std::uint16_t> registers;
    for (std::size_t at = 2; at < answer.size(); at += 2) registers.push_back(word_at(answer, at));
    return registers;
}

Answer<std::vector<std::uint16_t>> registers_in_frame(std::string_view frame, Protocol protocol, int address, const RegisterRow& row,
                                                      const std::string& where) {
    if (protocol == Protocol::ModbusRtu) {
        if (frame.size() < 5) return disturbed("The answer is cut short.", where);
        const auto body = frame.substr(0, frame.size() - 2);
        const unsigned sum = byte_at(frame, frame.size() - 2) | static_cast<unsigned>(byte_at(frame, frame.size() - 1) << 8U);
        if (sum != crc16(body)) return disturbed("The answer was disturbed on its way: its check sum is wrong.", where);
        if (byte_at(frame, 0) != address) return disturbed("Another instrument answered than the one that was asked.", where);
        return registers_in(body.substr(1), row, where);
    }
    if (frame.size() < 9) return disturbed("The answer is cut short.", where);
    if (word_at(frame, 0) != 0 || word_at(frame, 2) != 0 || word_at(frame, 4) != frame.size() - 6)
        return disturbed("What came is no answer to the question.", where);
    if (byte_at(frame, 6) != address) return disturbed("Another instrument answered than the one that was asked.", where);
    return registers_in(frame.substr(7), row, where);
}

double number_in(std::span<const std::uint16_t> registers, RegisterForm form, WordOrder words) {
    switch (form) {
        case RegisterForm::Int16: return static_cast<std::int16_t>(registers[0]);
        case RegisterForm::Uint16: return registers[0];
        case RegisterForm::Int32: return static_cast<std::int32_t>(two_words(registers, words));
        case RegisterForm::Uint32: return two_words(registers, words);
        case RegisterForm::Float32: return static_cast<double>(std::bit_cast<float>(two_words(registers, words)));
    }
    return 0.0;
}

std::string serial_in(std::span<const std::uint16_t> registers, SerialForm form, WordOrder words) {
    if (form == SerialForm::Number) return std::to_string(registers.size() == 1 ? registers[0] : two_words(registers, words));
    std::string text;
    for (const auto word : registers) put_word(text, word);
    text.erase(text.find_last_not_of(std::string_view{" \0", 2}) + 1);
    for (const char sign : text)
        if (sign < ' ' || sign > '~') return "";
    return text;
}

Answer<std::vector<std::vector<std::uint16_t>>> ask_registers(const Profile& profile, const PortName& port, const std::string& where,
                                                              std::span<const RegisterRow> rows, std::vector<Exchange>& raw) {
    const auto link = connected(profile, port, where);
    if (!link) return tl::unexpected(link.error());
    std::this_thread::sleep_for(std::chrono::milliseconds{profile.settle_ms});
    std::vector<std::vector<std::uint16_t>> answers;
    for (const auto& row : rows) {
        auto answer = ask_once(link->get(), profile, where, row, raw);
        if (!answer && answer.error().again == Again::Yes) answer = ask_once(link->get(), profile, where, row, raw);
        if (!answer) return tl::unexpected(answer.error());
        answers.push_back(std::move(*answer));
    }
    return answers;
}

}  // namespace wm::instruments
