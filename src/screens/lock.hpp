// When the window is locked: no PIN given yet, locked by hand, or nobody there for a while.
#pragma once

#include <optional>
#include <string>

#include "screens/letter_board.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// Fingers and keys as of one frame.
struct Hands {
    float x = 0.0F, y = 0.0F, wheel = 0.0F;
    bool down = false;
    int keys = 0;
    int letters = 0;
    friend bool operator==(const Hands&, const Hands&) = default;
};
/// Of the current ImGui frame.
[[nodiscard]] Hands hands_now();

/// The lock between frames. A PIN is here while it is typed, and nowhere else.
struct LockDraft {
    bool shut = false;      ///< locked since the last unlock
    int unlocked_seen = 0;  ///< LockView::unlocked as of the last frame
    int answers_seen = 0;
    bool sent = false;      ///< a PIN is on its way
    std::string name;       ///< who wants in
    std::string pin;
    BoardDraft board;
    Hands hands;
    std::optional<double> touched_s;  ///< when a hand last moved, as Moment::monotonic_s
};

/// Whether nothing but the lock is shown.
[[nodiscard]] bool is_locked(const World& world, const LockDraft& draft);

/// Shuts the lock now. Nothing where nobody has a PIN.
void shut(const World& world, LockDraft& draft, Requests& requests);

/// Shuts it when no hand moved for the time chosen; opens it when a PIN was right. Called once a frame,
/// before anything is drawn: who comes back after that time finds it locked already.
void look_after_lock(const World& world, LockDraft& draft, const Hands& hands, Requests& requests);

/// Seconds until the lock wants a frame: to shut, or to count a delay down. nullopt if it wants none.
[[nodiscard]] std::optional<double> seconds_to_lock(const World& world, const LockDraft& draft);

/// The person of that name; nullptr if there is none.
[[nodiscard]] const PersonLock* person_named(const LockView& lock, std::string_view name);
/// Seconds before the person may try a PIN again; 0 if at once.
[[nodiscard]] std::int64_t seconds_to_wait(const World& world, std::string_view name);

}  // namespace wm::screens
