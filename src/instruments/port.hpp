// A serial port or a socket through which bytes go both ways, each wait with an end.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <utility>

#include "instruments/fault.hpp"
#include "instruments/profile.hpp"
#include "problem/result.hpp"

namespace wm::instruments {

/// "/dev/ttyUSB0" is a device; "10.0.0.7:502" and "[fd00::7]:502" a host with its port, which a device never is.
struct PortName {
    std::string device;  ///< empty = the host counts
    std::string host, service;
    [[nodiscard]] std::string told() const;
};
/// Problem: neither of the two. Kind WrongUse.
[[nodiscard]] Result<PortName> read_port_name(std::string_view text);

/// The one clock of this room: how much of a wait is left. It counts on while the wall clock is moved.
class Deadline {
public:
    explicit Deadline(int ms) : end_{std::chrono::steady_clock::now() + std::chrono::milliseconds{ms}} {}
    [[nodiscard]] int left_ms() const;  ///< never below 0

private:
    std::chrono::steady_clock::time_point end_;
};

/// Open until it goes out of scope; no second program gets the same serial port meanwhile.
class Port {
public:
    /// Waits at most `timeout_ms` for a host; a name is looked up before that by the system, in its own time.
    [[nodiscard]] static Answer<Port> open(const PortName& name, const SerialSettings& serial, int timeout_ms, std::string where);
    Port(Port&& other) noexcept;
    Port& operator=(Port&& other) noexcept;
    ~Port();

    /// Every byte, or a fault. Again::No once the device is gone.
    [[nodiscard]] Answer<void> send(std::string_view bytes, const Deadline& until);
    /// The next line that is not empty, without its end: a CR or an LF, so that CR LF ends one too. More than 4096 bytes
    /// without an end are a fault. `seen` grows by every byte that came, also where no line comes of it.
    [[nodiscard]] Answer<std::string> line(const Deadline& until, std::string& seen);
    /// Drops what came unasked.
    void forget_input();

private:
    Port(int descriptor, std::string where) : descriptor_{descriptor}, where_{std::move(where)} {}
    [[nodiscard]] Answer<void> wait_for(short events, const Deadline& until);
    [[nodiscard]] tl::unexpected<Fault> gone() const;

    int descriptor_ = -1;
    std::string where_;
    std::string ahead_;  ///< came behind the line that was given out
};

}  // namespace wm::instruments
