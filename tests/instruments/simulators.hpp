// Instruments that are none: what stands at the other end of a cable (a pseudo-terminal) or of a connection on this machine.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <pty.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <csignal>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

#include <doctest/doctest.h>

namespace wm::instruments {

/// What the instrument does on hearing `heard`, which it clears of what it understood.
struct Reply {
    std::string bytes;
    bool unplug = false;  ///< after the bytes
};
using Manner = std::function<Reply(std::string& heard)>;

inline std::string bytes_of(std::initializer_list<int> values) {
    std::string bytes;
    for (const int value : values) bytes += static_cast<char>(value);
    return bytes;
}

/// For instruments that answer each whole line.
inline Manner by_line(std::function<Reply(const std::string& line)> answer) {
    return [answer = std::move(answer)](std::string& heard) {
        Reply all;
        for (std::size_t end; (end = heard.find('\n')) != std::string::npos && !all.unplug;) {
            std::string line = heard.substr(0, end);
            heard.erase(0, end + 1);
            while (!line.empty() && line.back() == '\r') line.pop_back();
            auto reply = answer(line);
            all.bytes += reply.bytes;
            all.unplug = reply.unplug;
        }
        return all;
    };
}

class Simulator {
public:
    Simulator(const Simulator&) = delete;
    Simulator& operator=(const Simulator&) = delete;
    [[nodiscard]] const std::string& port() const { return port_; }
    /// All that reached the other end.
    [[nodiscard]] std::string heard() const {
        const std::lock_guard lock{guard_};
        return all_;
    }

protected:
    Simulator() = default;
    ~Simulator() = default;

    /// Talks until told to stop, unplugged, or hung up on.
    bool talk(int descriptor, const Manner& manner, bool by_itself) {
        std::string heard;
        while (!stop_) {
            pollfd wait{descriptor, POLLIN, 0};
            const bool is_asked = ::poll(&wait, 1, 5) == 1;
            if (!is_asked && !by_itself) continue;
            if (is_asked) {
                std::array<char, 512> buffer{};
                const auto got = ::read(descriptor, buffer.data(), buffer.size());
                if (got <= 0) return true;
                heard.append(buffer.data(), static_cast<std::size_t>(got));
                const std::lock_guard lock{guard_};
                all_.append(buffer.data(), static_cast<std::size_t>(got));
            }
            const Reply reply = manner(heard);
            if (!reply.bytes.empty() && ::write(descriptor, reply.bytes.data(), reply.bytes.size()) < 0) return true;
            if (reply.unplug) return false;
        }
        return true;
    }

    std::string port_;
    std::atomic<bool> stop_ = false;
    std::thread thread_;

private:
    mutable std::mutex guard_;
    std::string all_;
};

class Cable : public Simulator {
public:
    explicit Cable(Manner manner) {
        int near = -1, far = -1;
        std::array<char, 256> name{};
        termios raw{};
        ::cfmakeraw(&raw);
        REQUIRE(::openpty(&near, &far, name.data(), &raw, nullptr) == 0);
        port_ = name.data();
        thread_ = std::thread{[this, near, far, manner = std::move(manner)] {
            talk(near, manner, false);
            // Both ends: then the port is gone for whoever has it open.
            ::close(far);
            ::close(near);
        }};
    }
    ~Cable() {
        stop_ = true;
        thread_.join();
    }
};

/// `by_itself`: it does not wait to be asked, and speaks some hundred times a second.
class Network : public Simulator {
public:
    explicit Network(Manner manner, bool by_itself = false) {
        std::signal(SIGPIPE, SIG_IGN);  // the program hangs up when it has what it wants
        listening_ = ::socket(AF_INET, SOCK_STREAM, 0);
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        REQUIRE(::bind(listening_, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0);
        REQUIRE(::listen(listening_, 4) == 0);
        socklen_t size = sizeof address;
        REQUIRE(::getsockname(listening_, reinterpret_cast<sockaddr*>(&address), &size) == 0);
        port_ = "127.0.0.1:" + std::to_string(ntohs(address.sin_port));
        thread_ = std::thread{[this, by_itself, manner = std::move(manner)] {
            while (!stop_) {
                pollfd wait{listening_, POLLIN, 0};
                if (::poll(&wait, 1, 5) != 1) continue;
                const int caller = ::accept(listening_, nullptr, nullptr);
                talk(caller, manner, by_itself);
                ::close(caller);
            }
        }};
    }
    ~Network() {
        stop_ = true;
        thread_.join();
        ::close(listening_);
    }

private:
    int listening_ = -1;
};

}  // namespace wm::instruments
