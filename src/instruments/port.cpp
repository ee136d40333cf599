#include "instruments/port.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <netdb.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>

namespace wm::instruments {

namespace {

constexpr std::size_t longest_line = 4096;

speed_t speed_of(int baud) {
    switch (baud) {
        case 1200: return B1200;
        case 2400: return B2400;
        case 4800: return B4800;
        case 19200: return B19200;
        case 38400: return B38400;
        case 57600: return B57600;
        case 115200: return B115200;
        default: return B9600;  // a profile has no other
    }
}

bool set_up(int descriptor, const SerialSettings& serial) {
    termios settings{};
    if (::tcgetattr(descriptor, &settings) != 0) return false;
    ::cfmakeraw(&settings);
    settings.c_cflag |= static_cast<tcflag_t>(CLOCAL | CREAD);
    settings.c_cflag &= ~static_cast<tcflag_t>(CSIZE | CSTOPB | PARENB | PARODD | CRTSCTS);
    settings.c_cflag |= static_cast<tcflag_t>(serial.data_bits == 7 ? CS7 : CS8);
    if (serial.stop_bits == 2) settings.c_cflag |= static_cast<tcflag_t>(CSTOPB);
    if (serial.parity != Parity::None) settings.c_cflag |= static_cast<tcflag_t>(PARENB);
    if (serial.parity == Parity::Odd) settings.c_cflag |= static_cast<tcflag_t>(PARODD);
    const speed_t speed = speed_of(serial.baud);
    if (::cfsetispeed(&settings, speed) != 0 || ::cfsetospeed(&settings, speed) != 0) return false;
    // EINVAL: what was still to be changed cannot be, as the parity of a port that has no wires. The answers then show whether it matters.
    if (::tcsetattr(descriptor, TCSANOW, &settings) != 0 && errno != EINVAL) return false;
    return ::tcflush(descriptor, TCIOFLUSH) == 0;
}

Answer<int> open_device(const std::string& device, const SerialSettings& serial, const std::string& where) {
    const int descriptor = ::open(device.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) {
        const bool denied = errno == EACCES || errno == EPERM;
        const bool busy = errno == EBUSY;
        if (busy) return no_answer("The port is in use by another program.", where, "End that program, or wait until it is done.", Again::No);
        return no_answer(denied ? "The port may not be opened by this person." : "There is no instrument at this port.", where,
                         denied ? "Join the group that owns the port (often dialout), and log in again."
                                : "Plug it in, and look under /dev which name it got.",
                         Again::No);
    }
    if (::isatty(descriptor) == 0 || !set_up(descriptor, serial)) {
        ::close(descriptor);
        return no_answer("This is no serial port.", where, "Name a device such as /dev/ttyUSB0, or a host with its port.", Again::No);
    }
    // Two programs that read one port share the bytes between them.
    static_cast<void>(::ioctl(descriptor, TIOCEXCL));
    return descriptor;
}

/// Connected, or the reason why not.
int connect_one(const addrinfo& address, const Deadline& until) {
    const int descriptor = ::socket(address.ai_family, address.ai_socktype | SOCK_NONBLOCK | SOCK_CLOEXEC, address.ai_protocol);
    if (descriptor < 0) return -1;
    if (::connect(descriptor, address.ai_addr, address.ai_addrlen) == 0) return descriptor;
    if (errno == EINPROGRESS) {
        pollfd wait{descriptor, POLLOUT, 0};
        int error = 0;
        socklen_t size = sizeof error;
        if (::poll(&wait, 1, until.left_ms()) == 1 && ::getsockopt(descriptor, SOL_SOCKET, SO_ERROR, &error, &size) == 0 && error == 0)
            return descriptor;
    }
    ::close(descriptor);
    return -1;
}

Answer<int> open_host(const PortName& name, int timeout_ms, const std::string& where) {
    addrinfo wanted{};
    wanted.ai_socktype = SOCK_STREAM;
    addrinfo* found = nullptr;
    if (::getaddrinfo(name.host.c_str(), name.service.c_str(), &wanted, &found) != 0)
        return no_answer("The name of the host is not known.", where, "Write its address in numbers, or see to the network.", Again::No);
    const Deadline until{timeout_ms};
    int descriptor = -1;
    for (const auto* each = found; each != nullptr && descriptor < 0; each = each->ai_next) descriptor = connect_one(*each, until);
    ::freeaddrinfo(found);
    if (descriptor < 0)
        return no_answer("Nothing answers at this address.", where, "Look whether the instrument is on and in the same network.", Again::No);
    return descriptor;
}

}  // namespace

std::string PortName::told() const {
    if (!device.empty()) return device;
    return host.find(':') == std::string::npos ? fmt::format("{}:{}", host, service) : fmt::format("[{}]:{}", host, service);
}

Result<PortName> read_port_name(std::string_view text) {
    const Problem neither{fmt::format("\"{}\" is no port.", text), "the port of the instrument",
                          "Write a device such as /dev/ttyUSB0, or host:port such as 10.0.0.7:502.", ProblemKind::WrongUse};
    if (text.starts_with('/')) {
        if (text.find('\0') != std::string_view::npos) return refused(neither);
        return PortName{std::string{text}, "", ""};
    }
    const auto colon = text.rfind(':');
    if (colon == std::string_view::npos) return refused(neither);
    auto host = text.substr(0, colon);
    const auto service = text.substr(colon + 1);
    const bool bracketed = host.starts_with('[') && host.ends_with(']') && host.size() > 2;
    if (bracketed) host = host.substr(1, host.size() - 2);
    const bool is_number = !service.empty() && service.size() <= 5 && std::all_of(service.begin(), service.end(), [](char c) { return c >= '0' && c <= '9'; });
    const int number = is_number ? std::stoi(std::string{service}) : 0;
    const bool is_host = !host.empty() && host.size() < 254 && (bracketed || host.find(':') == std::string_view::npos) &&
                         std::all_of(host.begin(), host.end(), [](char c) { return c > ' ' && c <= '~' && c != '/' && c != '[' && c != ']'; });
    if (number < 1 || number > 65535 || !is_host) return refused(neither);
    return PortName{"", std::string{host}, std::string{service}};
}

int Deadline::left_ms() const {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end_ - std::chrono::steady_clock::now()).count();
    return static_cast<int>(std::max<std::int64_t>(left, 0));
}

Answer<Port> Port::open(const PortName& name, const SerialSettings& serial, int timeout_ms, std::string where) {
    const auto descriptor = name.device.empty() ? open_host(name, timeout_ms, where) : open_device(name.device, serial, where);
    if (!descriptor) return tl::unexpected(descriptor.error());
    return Port{*descriptor, std::move(where)};
}

Port::Port(Port&& other) noexcept
    : descriptor_{std::exchange(other.descriptor_, -1)}, where_{std::move(other.where_)}, ahead_{std::move(other.ahead_)} {}

Port& Port::operator=(Port&& other) noexcept {
    std::swap(descriptor_, other.descriptor_);
    std::swap(where_, other.where_);
    std::swap(ahead_, other.ahead_);
    return *this;
}

Port::~Port() {
    if (descriptor_ < 0) return;
    static_cast<void>(::ioctl(descriptor_, TIOCNXCL));
    ::close(descriptor_);
}

tl::unexpected<Fault> Port::gone() const {
    return no_answer("The instrument is gone: its port was closed.", where_, "Plug it in again, or type the reading.", Again::No);
}

Answer<void> Port::wait_for(short events, const Deadline& until) {
    for (;;) {
        pollfd wait{descriptor_, events, 0};
        const int left = until.left_ms();
        const int ready = ::poll(&wait, 1, left);
        if (ready < 0 && errno == EINTR) continue;
        if (ready < 0) return gone();
        if (ready == 0)
            return no_answer("The instrument gave no whole answer in time.", where_, "Look whether it is on, and whether speed and address are as in its profile.",
                             Again::Yes);
        // What came before the plug was drawn is still there to be read.
        if ((wait.revents & events) == 0) return gone();
        return {};
    }
}

Answer<void> Port::send(std::string_view bytes, const Deadline& until) {
    while (!bytes.empty()) {
        if (const auto ready = wait_for(POLLOUT, until); !ready) return ready;
        ssize_t sent = ::send(descriptor_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (sent < 0 && errno == ENOTSOCK) sent = ::write(descriptor_, bytes.data(), bytes.size());
        if (sent < 0 && (errno == EINTR || errno == EAGAIN)) continue;
        if (sent <= 0) return gone();
        bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return {};
}

Answer<std::string> Port::line(const Deadline& until, std::string& seen) {
    for (;;) {
        const auto end = ahead_.find_first_of("\r\n");
        if (end != std::string::npos) {
            std::string found = ahead_.substr(0, end);
            ahead_.erase(0, end + 1);
            if (found.empty()) continue;
            return found;
        }
        if (ahead_.size() > longest_line)
            return no_answer("The instrument sends on and on without the end of a line.", where_, "Compare speed, parity and kind of the instrument with its profile.",
                             Again::No);
        if (const auto ready = wait_for(POLLIN, until); !ready) return tl::unexpected(ready.error());
        std::array<char, 512> buffer{};
        const ssize_t got = ::read(descriptor_, buffer.data(), buffer.size());
        if (got < 0 && (errno == EINTR || errno == EAGAIN)) continue;
        if (got <= 0) return gone();
        seen.append(buffer.data(), static_cast<std::size_t>(got));
        ahead_.append(buffer.data(), static_cast<std::size_t>(got));
    }
}

void Port::forget_input() {
    ahead_.clear();
    std::array<char, 512> buffer{};
    // Bounded: an instrument that never stops would keep us here.
    for (int i = 0; i < 64; ++i) {
        pollfd wait{descriptor_, POLLIN, 0};
        if (::poll(&wait, 1, 0) != 1 || (wait.revents & POLLIN) == 0) return;
        if (::read(descriptor_, buffer.data(), buffer.size()) <= 0) return;
    }
}

}  // namespace wm::instruments
