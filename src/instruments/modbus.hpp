// Modbus: the bytes of a question for registers, what an answer means, and asking over a cable or a network.
//
// The library below does port, speed, waiting and check sum. What goes out is worked out here a second time, since the library
// does not give it back and evidence wants it; the tests hold it against what reached the other end.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "instruments/fault.hpp"
#include "instruments/port.hpp"
#include "instruments/profile.hpp"

namespace wm::instruments {

/// The check sum behind a frame on a cable (MODBUS over serial line V1.02, 6.2.2); its low byte goes first.
[[nodiscard]] std::uint16_t crc16(std::string_view bytes);

/// Function, first register, count: functions 03 and 04 (Application Protocol V1.1b3, 6.3 and 6.4).
[[nodiscard]] std::string request_for(const RegisterRow& row);
[[nodiscard]] std::string frame_for_cable(int address, std::string_view request);
/// With the header of TCP; the transaction is always 0, each connection asks one thing at a time.
[[nodiscard]] std::string frame_for_network(int address, std::string_view request);

/// The registers of an answer without frame. An exception comes back in words; Again::Yes where the instrument is only busy,
/// or the answer is none to this question.
[[nodiscard]] Answer<std::vector<std::uint16_t>> registers_in(std::string_view answer, const RegisterRow& row, const std::string& where);

/// The same with the frame around it, which must be whole and from that address.
[[nodiscard]] Answer<std::vector<std::uint16_t>> registers_in_frame(std::string_view frame, Protocol protocol, int address, const RegisterRow& row,
                                                                    const std::string& where);

/// `registers` holds as many as the form asks for.
[[nodiscard]] double number_in(std::span<const std::uint16_t> registers, RegisterForm form, WordOrder words);

/// Text: two letters a register, the first in the high byte; blanks and zero bytes at the end are dropped, and a sign that is
/// not printable makes it "". Number: as decimal digits.
[[nodiscard]] std::string serial_in(std::span<const std::uint16_t> registers, SerialForm form, WordOrder words);

/// One answer for each row. Everything that was sent and came whole goes into `raw`, also on the way to a fault.
[[nodiscard]] Answer<std::vector<std::vector<std::uint16_t>>> ask_registers(const Profile& profile, const PortName& port, const std::string& where,
                                                                            std::span<const RegisterRow> rows, std::vector<Exchange>& raw);

}  // namespace wm::instruments
