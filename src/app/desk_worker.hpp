// The desk on a thread of its own: requests of the window go in, news for the window come out.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "app/pictures.hpp"
#include "app/queue.hpp"
#include "app/world.hpp"
#include "desk/desk.hpp"
#include "screens/window.hpp"

namespace wm::app {

/// What changed since the window last looked; only what is set is news.
struct News {
    std::optional<std::vector<desk::JobRow>> jobs;
    std::optional<desk::JobView> job;
    std::optional<std::vector<desk::MessageView>> messages;
    std::optional<desk::WeekView> week;
    bool no_week = false;  ///< it was asked for, and no week has a job in it
    std::optional<std::pair<desk::Register, desk::RegisterTable>> registers;
    std::optional<desk::TraceView> trace;
    std::optional<screens::PreviewOf> preview;
    std::optional<std::vector<std::string>> page_one;
    std::optional<std::vector<std::string>> facts_files;
    std::optional<OfferedPictures> pictures;
    std::optional<std::pair<std::string, screens::SharedPicture>> photo_look;  ///< path, and how it looks
    std::optional<screens::LockView> lock;
    std::optional<screens::KeptNumber> typed;  ///< what was half typed when the window last ended
    std::optional<desk::SettingsView> settings;
    std::optional<std::vector<std::string>> checklists;
    std::optional<std::string> saved_mark;
    std::optional<std::string> undone;  ///< the check whose entry was taken back
    std::optional<desk::ListDraftView> list_draft;
    std::optional<desk::PickListView> parts;
    std::optional<desk::DayPlan> plan;
    std::optional<desk::ComplaintSheetView> complaints;
    std::optional<std::string> report_file;
    std::optional<Problem> problem;
    bool beside = false;      ///< the problem does not say that what was asked was refused
    bool understood = false;  ///< the person has read the problem
    bool done = false;        ///< one request less is on its way
};

/// Puts the news into what the screens are shown; `pending` counts the requests that are on their way.
void take_in(screens::World& shown, News& news, int& pending);

/// Where the worker finds files that only the window's person names.
struct WorkerPlaces {
    std::filesystem::path data;
    std::filesystem::path photos;  ///< a folder with pictures to offer, where no other is chosen
    std::filesystem::path facts;   ///< a folder with facts files to offer
    /// The clock, for the delays of PINs.
    std::function<desk::Moment()> now = [] { return desk::Moment{}; };
    std::filesystem::path chosen_photos{};  ///< as chosen before; empty: `photos`
    std::vector<MediaRoot> media{};         ///< where cards and cameras are looked for
};

/// The desk of the person with that name and PIN.
using OpenByPin = std::function<Result<desk::Desk>(const std::string& name, std::string_view pin)>;

class DeskWorker {
public:
    /// `wake` is called from the worker's thread after each piece of news. Without a desk it is locked until an
    /// Unlock that `open` grants.
    DeskWorker(std::optional<desk::Desk> desk, WorkerPlaces places, std::function<void()> wake, OpenByPin open = {});
    DeskWorker(const DeskWorker&) = delete;
    DeskWorker& operator=(const DeskWorker&) = delete;
    /// Finishes what was asked for, then ends.
    ~DeskWorker();

    void post(const screens::Request& request);
    /// News since the last call, oldest first. Never waits.
    [[nodiscard]] std::vector<News> news();

private:
    void run();
    /// Of what needs no desk: false for all else.
    bool carry_out_locked(const screens::Request& request);
    void carry_out(const screens::Request& request);
    void intent(const desk::Intent& intent);
    /// The first writing of a day waits for the backup.
    void back_up_before(const screens::Request& request);
    void show_job(const std::string& job);
    [[nodiscard]] News lists();
    /// Only when it is asked for: a card may be slow.
    [[nodiscard]] OfferedPictures pictures() const;
    void choose_photos(const std::string& path);
    void no_picture(const std::string& path, const Problem& problem);
    void show_lists();
    void show_week(const std::string& week);
    void show_complaints(const std::string& job);
    void show_look_of(const std::string& path);
    void show_draft(const desk::DraftStep& step);
    void tell(News news);

    // desk_lock.cpp
    void unlock(const screens::Unlock& wanted);
    void lock();
    /// Sealed where persons have PINs. While it is locked nothing can be sealed: it waits for the next unlocking.
    void keep_typed(const screens::KeptNumber& number);
    /// Once, with the first desk: what was half typed before. With every desk: that nothing of it lies in the clear.
    void look_after_typed(News& news);
    /// A lead's where it stays open longer by it, once persons have PINs.
    void choose_lock_time(int minutes);
    void give_pin(const screens::GivePin& wanted);
    void take_pin_away(const screens::TakePinAway& wanted);
    /// Whether the PIN is that of who is at work; tells why not.
    [[nodiscard]] bool is_own_pin(const std::string& pin);
    void look_at_lock(std::string answer, bool refused);
    void show_lock(std::string answer, bool refused);
    /// Everything a window shows, after the desk was opened; the lock with it.
    void show_all();

    std::optional<desk::Desk> desk_;
    WorkerPlaces places_;
    std::function<void()> wake_;
    OpenByPin open_;
    screens::LockView lock_;
    std::string open_job_;
    bool typed_told_ = false;
    std::optional<screens::KeptNumber> typed_waits_;
    std::string backed_up_on_;  ///< the day for which that was done or tried
    std::string shown_week_;    ///< as last asked for; empty before that
    desk::WeekFilterView shown_filter_;
    Queue<screens::Request> requests_;
    Queue<News> news_;
    std::thread thread_;
};

/// Files of a folder, newest first, at most 200.
[[nodiscard]] std::vector<std::string> files_in(const std::filesystem::path& folder,
                                                const std::vector<std::string>& endings);

}  // namespace wm::app
