// The desk on a thread of its own: requests of the window go in, news for the window come out.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <thread>
#include <vector>

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
    std::optional<std::pair<desk::Register, desk::RegisterTable>> registers;
    std::optional<desk::TraceView> trace;
    std::optional<screens::PreviewOf> preview;
    std::optional<std::vector<std::string>> page_one;
    std::optional<std::vector<std::string>> photo_files, facts_files;
    std::optional<std::string> saved_mark;
    std::optional<std::string> undone;  ///< the check whose entry was taken back
    std::optional<desk::PickListView> parts;
    std::optional<Problem> problem;
    bool understood = false;  ///< the person has read the problem
    bool done = false;        ///< one request less is on its way
};

/// Puts the news into what the screens are shown; `pending` counts the requests that are on their way.
void take_in(screens::World& shown, News& news, int& pending);

/// Where the worker finds files that only the window's person names.
struct WorkerPlaces {
    std::filesystem::path data;
    std::filesystem::path photos;  ///< a folder with pictures to offer
    std::filesystem::path facts;   ///< a folder with facts files to offer
};

class DeskWorker {
public:
    /// `wake` is called from the worker's thread after each piece of news.
    DeskWorker(desk::Desk desk, WorkerPlaces places, std::function<void()> wake);
    DeskWorker(const DeskWorker&) = delete;
    DeskWorker& operator=(const DeskWorker&) = delete;
    /// Finishes what was asked for, then ends.
    ~DeskWorker();

    void post(const screens::Request& request);
    /// News since the last call, oldest first. Never waits.
    [[nodiscard]] std::vector<News> news();

private:
    void run();
    void carry_out(const screens::Request& request);
    void intent(const desk::Intent& intent);
    /// The first writing of a day waits for the backup.
    void back_up_before(const screens::Request& request);
    void show_job(const std::string& job);
    void show_lists();
    void show_week(const std::string& week);
    void tell(News news);

    desk::Desk desk_;
    WorkerPlaces places_;
    std::function<void()> wake_;
    std::string open_job_;
    std::string backed_up_on_;  ///< the day for which that was done or tried
    std::string shown_week_;    ///< as last asked for; empty before that
    desk::WeekFilterView shown_filter_;
    Queue<screens::Request> requests_;
    Queue<News> news_;
    std::thread thread_;
};

/// Pictures and facts files of a folder, newest first, at most 200.
[[nodiscard]] std::vector<std::string> files_in(const std::filesystem::path& folder,
                                                const std::vector<std::string>& endings);

}  // namespace wm::app
