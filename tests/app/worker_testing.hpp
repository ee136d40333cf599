// A worker's desk in a shell's folder, and an ear for its news.
#pragma once

#include <condition_variable>
#include <mutex>

#include "app/desk_worker.hpp"
#include "app/testing.hpp"

namespace wm::app::testing {

/// Waits for news by the worker's own call, never by time.
class Listener {
public:
    void wake() {
        {
            const std::lock_guard lock{mutex_};
            ++calls_;
        }
        changed_.notify_all();
    }
    void wait_for(int calls) {
        std::unique_lock lock{mutex_};
        changed_.wait(lock, [&] { return calls_ >= calls; });
    }

private:
    std::mutex mutex_;
    std::condition_variable changed_;
    int calls_ = 0;
};

inline desk::Desk desk_in(Shell& shell) {
    Arguments arguments;
    arguments.options.emplace("data", shell.data().string());
    arguments.options.emplace("at", shell.at);
    const auto world = world_for(arguments);
    REQUIRE(world);
    auto desk = open_desk(*world, desk::Access::Write);
    REQUIRE_MESSAGE(desk, (desk ? "" : told(desk.error())));
    return std::move(*desk);
}

}  // namespace wm::app::testing
