// Columns as they lie in memory, written down and read back by the same program on the same kind of machine.
#pragma once

#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "audit/names.hpp"

namespace wm::audit::kept {

// Reads otherwise on a machine with another order of bytes, which then makes its columns anew.
inline constexpr std::uint32_t order_of_bytes = 0x01020304;

class Writer {
public:
    template <class T>
        requires std::is_arithmetic_v<T>
    void put(T number) {
        bytes_.append(reinterpret_cast<const char*>(&number), sizeof number);
    }
    void put(const std::string& text) {
        put(static_cast<std::uint64_t>(text.size()));
        bytes_ += text;
    }
    void put(const Names& names) {
        put(static_cast<std::uint64_t>(names.size()));
        for (Code code = 0; code < names.size(); ++code) put(names.text(code));
    }
    template <class T>
        requires std::is_arithmetic_v<T>
    void put(const std::vector<T>& column) {
        put(static_cast<std::uint64_t>(column.size()));
        bytes_.append(reinterpret_cast<const char*>(column.data()), column.size() * sizeof(T));
    }
    template <class... Fields>
    void all(const Fields&... fields) {
        (put(fields), ...);
    }
    [[nodiscard]] std::string&& done() { return std::move(bytes_); }

private:
    std::string bytes_;
};

class Reader {
public:
    explicit Reader(std::string_view bytes) : rest_{bytes} {}

    template <class T>
        requires std::is_arithmetic_v<T>
    void get(T& number) {
        if constexpr (std::is_same_v<T, bool>) {
            std::uint8_t byte = 0;
            get(byte);
            number = byte != 0;
        } else if (const auto bytes = taken(sizeof number); bytes.size() == sizeof number) {
            std::memcpy(&number, bytes.data(), sizeof number);
        }
    }
    void get(std::string& text) { text = taken(count(1)); }
    void get(Names& names) {
        std::string text;
        const auto texts = count(sizeof(std::uint64_t));
        for (std::size_t i = 0; i < texts && !torn_; ++i) {
            get(text);
            torn_ = torn_ || names.of(text) != i;  // the same text twice
        }
    }
    template <class T>
        requires std::is_arithmetic_v<T>
    void get(std::vector<T>& column) {
        const auto rows = count(sizeof(T));
        column.resize(rows);
        const auto bytes = taken(rows * sizeof(T));
        if (!bytes.empty()) std::memcpy(column.data(), bytes.data(), bytes.size());
    }
    template <class... Fields>
    void all(Fields&... fields) {
        (get(fields), ...);
    }
    /// How many follow that take at least so many bytes each; 0 when there is no room for them.
    std::size_t count(std::size_t least_bytes) {
        std::uint64_t number = 0;
        get(number);
        if (number <= rest_.size() / least_bytes) return number;
        torn_ = true;
        return 0;
    }
    void demand(bool holds) { torn_ = torn_ || !holds; }
    [[nodiscard]] bool is_torn() const { return torn_; }
    [[nodiscard]] bool is_at_end() const { return rest_.empty(); }

private:
    std::string_view taken(std::size_t bytes) {
        if (bytes > rest_.size()) {
            torn_ = true;
            return {};
        }
        const auto part = rest_.substr(0, bytes);
        rest_.remove_prefix(bytes);
        return part;
    }

    std::string_view rest_;
    bool torn_ = false;
};

/// As many numbers as rows, each of a text there is.
inline bool all_below(const std::vector<Code>& column, std::size_t rows, const Names& names) {
    if (column.size() != rows) return false;
    for (const auto code : column)
        if (code >= names.size()) return false;
    return true;
}

/// Where the rows of each job begin, and one more: rising from 0 to all rows.
inline bool are_starts(const std::vector<std::size_t>& starts, std::size_t jobs, std::size_t rows) {
    if (starts.size() != jobs + 1 || starts.front() != 0 || starts.back() != rows) return false;
    for (std::size_t i = 1; i < starts.size(); ++i)
        if (starts[i] < starts[i - 1]) return false;
    return true;
}

}  // namespace wm::audit::kept
