// How a kind of instrument is asked and understood, as a company writes it down in TOML.
//
//     title = "Pressure gauge with a two-wire output"
//     protocol = "modbus-rtu"          # modbus-tcp, scpi, line
//     instrument_type = "pressure gauge"
//     unit = "kPa"                     # of the reading once scale and offset are applied
//     decimals = 0
//     scale = 0.1                      # reading = number * scale + offset
//     plausible = [0, 1600]            # what the instrument can show at all
//     settle = "200 ms"                # between opening the port and the first question
//     timeout = "1 s"                  # for one whole answer
//     marks = { "004711" = "PG-1" }    # serial number told by the instrument = mark it is registered by
//     [serial] …                       # baud, parity, data_bits, stop_bits; for a cable
//     [modbus] … or [scpi] … or [line] …
//
// A file says one protocol and has the table of that protocol alone. A key nobody knows is an error, so that a slip of the pen
// does not leave a default in force. assets/guide/profiles.md teaches it to the lead.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"
#include "units/unit.hpp"

namespace wm::instruments {

enum class Protocol { ModbusRtu, ModbusTcp, Scpi, Line };
[[nodiscard]] std::string_view in_words(Protocol protocol);  ///< as the file writes it

enum class Parity { None, Even, Odd };
struct SerialSettings {
    int baud = 9600;
    Parity parity = Parity::None;
    int data_bits = 8;
    int stop_bits = 1;
};

enum class RegisterTable { Holding, Input };
enum class RegisterForm { Int16, Uint16, Int32, Uint32, Float32 };
/// Which of two registers holds the high half; within one the high byte always comes first.
enum class WordOrder { HighFirst, LowFirst };
enum class SerialForm { Text, Number };

/// Registers in a row, counted from 0 as on the wire.
struct RegisterRow {
    RegisterTable table = RegisterTable::Holding;
    int first = 0;
    int count = 1;
};
struct ModbusQuestion {
    int address = 1;  ///< 1 to 247; over TCP also 0 and 255
    RegisterRow reading;
    RegisterForm form = RegisterForm::Int16;
    WordOrder words = WordOrder::HighFirst;
    std::optional<double> no_reading;  ///< the raw number that stands for "no sensor"
    std::optional<RegisterRow> serial;
    SerialForm serial_form = SerialForm::Text;
};

struct ScpiQuestion {
    std::string reading;             ///< "MEAS:PRES?"
    std::string identity = "*IDN?";  ///< "" = it is not asked
    std::string errors = "SYST:ERR?";  ///< "" = the queue is not looked into
};

/// Patterns hold {value} or {serial}; a blank stands for one or more; everything else for itself.
struct LineQuestion {
    std::string ask;  ///< without line end; "" = the instrument speaks by itself
    std::string reading;
    std::string ask_identity;
    std::string identity;  ///< "" = it says none
    std::string line_end = "\r\n";  ///< behind what we send
};

struct Profile {
    std::string name;    ///< of the file, for messages
    std::string sha256;  ///< of its text: evidence names the very profile it was read by
    std::string title;
    Protocol protocol = Protocol::Line;
    std::string instrument_type;
    units::Unit unit;
    int decimals = 0;
    double scale = 1.0, offset = 0.0;
    double least = 0.0, most = 0.0;  ///< in `unit`
    int settle_ms = 0;               ///< 0 to 60,000
    int timeout_ms = 1000;           ///< 50 to 60,000
    std::map<std::string, std::string> marks;
    SerialSettings serial;
    ModbusQuestion modbus;  ///< counts for the two Modbus protocols
    ScpiQuestion scpi;
    LineQuestion line;
};

/// Problem: file, line and column of the first thing that is wrong, and what to write.
[[nodiscard]] Result<Profile> read_profile(std::string_view text, std::string_view file_name);

/// The mark an instrument of that serial number is registered by: that of the list, else the number itself.
[[nodiscard]] std::string mark_of(const Profile& profile, const std::string& serial);

/// How a number becomes the reading: "input register 0, int16, times 0.1, in kPa".
[[nodiscard]] std::string told_meaning(const Profile& profile);

}  // namespace wm::instruments
