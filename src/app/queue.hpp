// Values from one thread to another, in order.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <iterator>
#include <mutex>
#include <optional>
#include <utility>
#include <vector>

namespace wm::app {

/// A queue of values between two threads; nothing else is shared.
template <class T>
class Queue {
public:
    void put(T value) {
        {
            const std::lock_guard lock{mutex_};
            items_.push_back(std::move(value));
        }
        arrived_.notify_one();
    }
    /// Waits; nullopt once closed and empty.
    std::optional<T> take() {
        std::unique_lock lock{mutex_};
        arrived_.wait(lock, [&] { return closed_ || !items_.empty(); });
        if (items_.empty()) return std::nullopt;
        T value = std::move(items_.front());
        items_.pop_front();
        return value;
    }
    std::vector<T> take_all() {
        const std::lock_guard lock{mutex_};
        std::vector<T> all{std::make_move_iterator(items_.begin()), std::make_move_iterator(items_.end())};
        items_.clear();
        return all;
    }
    /// How many wait.
    [[nodiscard]] std::size_t size() {
        const std::lock_guard lock{mutex_};
        return items_.size();
    }
    /// Nothing more comes; what waits is still taken.
    void close() {
        {
            const std::lock_guard lock{mutex_};
            closed_ = true;
        }
        arrived_.notify_all();
    }

private:
    std::mutex mutex_;
    std::condition_variable arrived_;
    std::deque<T> items_;
    bool closed_ = false;
};

}  // namespace wm::app
