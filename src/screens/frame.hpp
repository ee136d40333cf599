// One frame of the window: header, strips, the screen at hand, and what the person asked for.
#pragma once

#include <string>
#include <vector>

#include "screens/jobs_screen.hpp"
#include "screens/access_screen.hpp"
#include "screens/letter_board.hpp"
#include "screens/lock.hpp"
#include "screens/run_draft.hpp"
#include "screens/settings_screen.hpp"
#include "screens/sign_screen.hpp"
#include "screens/week_screen.hpp"
#include "screens/world.hpp"

namespace wm::screens {

enum class Screen { Jobs, Run, SignOff, Outbox, Week, Settings };

/// All that is half done in the window. Only the running series must survive a restart.
struct Drafts {
    Screen screen = Screen::Jobs;
    bool locked = false;           ///< wipe lock: the glass can be wiped without effect
    LockDraft lock;                ///< of the PINs
    AccessDraft access;
    std::string only_looked_at;    ///< job of another that is only looked at, and by whom
    std::string resume;            ///< job that was open when the window last ended
    std::string job_before_start;  ///< the open job when a new one was asked for
    bool starting = false;
    Attention attention;
    BoardDraft board;
    JobsDraft jobs;
    RunDraft run;
    SignDraft sign;
    WeekDraft week;
    RegisterDraft registers;
    std::vector<SeriesRun> series;
};

/// How the frame is drawn.
struct Dress {
    Theme theme;
    Metrics metrics;
    Fonts fonts;
    TextureOf texture_of{};  ///< empty = pictures are grey grounds
};

/// Draws into the current ImGui frame, over the whole display.
[[nodiscard]] Requests draw_frame(const World& world, Drafts& drafts, const Dress& dress,
                                  Probe* probe);

/// Sets the ImGui context up for our frames: no settings file, own style. Call once, after it is
/// made.
void prepare_context();

}  // namespace wm::screens
