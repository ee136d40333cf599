// The real window: opens it, draws when something happened, and sleeps otherwise.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "problem/result.hpp"
#include "screens/frame.hpp"

namespace wm::screens {

struct WindowOptions {
    std::string title = "Witnessmark";
    int width = 1280;
    int height = 800;
    FontFiles fonts;
    Look look = Look::Day;
    int text_percent = 100;
    Sound sound = Sound::On;
    int lock_minutes = 10;  ///< idle time after which it locks, once persons have PINs; 0 = never
    std::optional<float> px_per_mm;  ///< as calibrated; else from the size the monitor tells
    Screen first_screen = Screen::Jobs;
    std::optional<WantedCheck> first_check;
    std::optional<desk::DraftStep> on_bench;  ///< a checklist that is taken to the workshop first
    std::optional<desk::Register> first_register;  ///< shown at once in place of the settings
    bool days_ahead = false;         ///< the plan of the days ahead is open
    std::string resume;              ///< job that was open when the window last ended; empty for none
    std::vector<SeriesRun> running;  ///< series kept from before a restart
    std::string
        picture_to;  ///< PNG to write after `picture_after` frames, then end; empty for none
    int picture_after = 12;
};

/// How the window speaks with the desk. All are called in the window's thread; `refresh` and `post` must not wait.
/// The look, the text size and the scale are taken up by the window and sent too, to be kept.
struct Link {
    /// Once, when the window stands, before its first frame and anything below: whatever was begun beside its opening
    /// is waited for here. A problem ends the window.
    std::function<Result<void>()> ready;
    std::function<void(World&)> refresh;  ///< brings the moment and whatever is new
    std::function<void(const Request&)> post;
};

/// Until the person closes it or asks to quit. Problem: no display, no OpenGL 3, no picture
/// written, or what `ready` told.
[[nodiscard]] Result<void> run_window(const WindowOptions& options, const Link& link);

/// Makes a sleeping window refresh. May be called from any thread while run_window runs.
void wake_window();

}  // namespace wm::screens
