#include "app/desk_worker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <new>

#include "app/window_settings.hpp"
#include "desk/backup.hpp"
#include "desk/complaints.hpp"
#include "desk/list_draft.hpp"
#include "desk/outbox.hpp"
#include "desk/registers.hpp"
#include "desk/trace.hpp"
#include "desk/week.hpp"
#include "digest/pin.hpp"
#include "photo/intake.hpp"

namespace wm::app {

namespace fs = std::filesystem;

void take_in(screens::World& shown, News& news, int& pending) {
    if (news.jobs) {
        shown.jobs = std::move(*news.jobs);
        ++shown.jobs_look;
        shown.listed = true;
    }
    if (news.job) {
        for (auto& row : shown.jobs)
            if (row.job == news.job->row.job) row = news.job->row;
        ++shown.jobs_look;
        shown.job = std::move(*news.job);
    }
    if (news.messages) shown.messages = std::move(*news.messages);
    if (news.week) shown.week = std::move(*news.week);
    shown.no_week = news.no_week || (shown.no_week && !shown.week);
    if (news.trace) shown.trace = std::move(*news.trace);
    if (news.registers) shown.registers = std::move(*news.registers);
    if (news.preview) shown.preview = std::move(*news.preview);
    if (news.page_one) shown.page_one = std::move(*news.page_one);
    if (news.pictures) {
        shown.photo_files = std::move(news.pictures->files);
        shown.photos = std::move(news.pictures->folders);
        // A camera uses its names again.
        shown.photo_looks.clear();
        ++shown.folder_looks;
    }
    if (news.photo_look) shown.photo_looks[news.photo_look->first] = std::move(news.photo_look->second);
    if (news.facts_files) shown.facts_files = std::move(*news.facts_files);
    if (news.lock) shown.lock = std::move(*news.lock);
    if (news.typed) shown.typed = std::move(*news.typed);
    if (news.settings) shown.settings = std::move(*news.settings);
    if (news.checklists) shown.checklists = std::move(*news.checklists);
    if (news.saved_mark) shown.saved_mark = std::move(*news.saved_mark);
    if (news.problem) {
        shown.problem = std::move(*news.problem);
        if (!news.beside) shown.problem_at = shown.answered + 1;
    }
    if (news.report_file) shown.report_file = std::move(*news.report_file);
    if (news.understood) shown.problem.reset();
    if (news.list_draft) {
        shown.list_draft = std::move(*news.list_draft);
        ++shown.list_draft_looks;
    }
    if (news.parts) shown.parts = std::move(*news.parts);
    if (news.plan) shown.plan = std::move(*news.plan);
    if (news.complaints) shown.complaints = std::move(*news.complaints);
    // It is answered with the next "done" of the same request.
    if (news.undone) shown.undone = std::pair{shown.answered + 1, std::move(*news.undone)};
    if (!news.done) return;
    ++shown.answered;
    if (pending > 0) --pending;
}

namespace {

/// PINs are not left lying in memory once they were used.
void wipe_pins(screens::Request& request) {
    if (auto* unlock = std::get_if<screens::Unlock>(&request)) digest::wipe(unlock->pin);
    if (auto* given = std::get_if<screens::GivePin>(&request)) {
        digest::wipe(given->own_pin);
        digest::wipe(given->pin);
    }
    if (auto* taken = std::get_if<screens::TakePinAway>(&request)) digest::wipe(taken->own_pin);
}

}  // namespace

std::vector<std::string> files_in(const fs::path& folder, const std::vector<std::string>& endings) {
    std::vector<std::pair<fs::file_time_type, std::string>> found;
    std::error_code problem;
    for (fs::directory_iterator at{folder, fs::directory_options::skip_permission_denied, problem}, end; !problem && at != end;
         at.increment(problem)) {
        const auto& entry = *at;
        if (std::find(endings.begin(), endings.end(), lower_ending(entry.path())) == endings.end()) continue;
        std::error_code gone;  // deleted meanwhile
        found.emplace_back(fs::last_write_time(entry.path(), gone), entry.path().string());
    }
    std::sort(found.rbegin(), found.rend());
    std::vector<std::string> names;
    for (auto& [time, name] : found)
        if (names.size() < 200) names.push_back(std::move(name));
    return names;
}

DeskWorker::DeskWorker(std::optional<desk::Desk> desk, WorkerPlaces places, std::function<void()> wake, OpenByPin open)
    : desk_{std::move(desk)}, places_{std::move(places)}, wake_{std::move(wake)}, open_{std::move(open)}, thread_{[this] { run(); }} {}

DeskWorker::~DeskWorker() {
    requests_.close();
    thread_.join();
}

void DeskWorker::post(const screens::Request& request) { requests_.put(request); }

std::vector<News> DeskWorker::news() { return news_.take_all(); }

void DeskWorker::tell(News news) {
    news_.put(std::move(news));
    wake_();
}

void DeskWorker::run() {
    if (desk_) show_all();
    else show_lock("", false);
    while (auto request = requests_.take()) {
        try {
            if (!carry_out_locked(*request)) {
                back_up_before(*request);
                carry_out(*request);
            }
        } catch (const std::bad_alloc&) {
            // What was not acknowledged stays on the screen; a large picture, say, must not take the window with it.
            News news;
            news.problem = Problem{"There is not enough memory for this.", "this computer",
                                   "What was saved is safe. Close other programs, then do it again.", ProblemKind::NotStored};
            tell(std::move(news));
        }
        wipe_pins(*request);
        News news;
        news.done = true;
        tell(std::move(news));
    }
}

namespace {

/// What the window keeps of itself; false for every other request.
bool keep_choice(const fs::path& data, const screens::Request& request) {
    if (const auto* look = std::get_if<screens::ChooseLook>(&request)) return keep_look(data, look->look), true;
    if (const auto* size = std::get_if<screens::ChooseTextSize>(&request)) return keep_text_size(data, size->percent), true;
    if (const auto* scale = std::get_if<screens::ChooseScale>(&request)) return keep_scale(data, scale->px_per_mm), true;
    if (const auto* sound = std::get_if<screens::ChooseSound>(&request)) return keep_sound(data, sound->sound), true;
    if (const auto* place = std::get_if<screens::ChoosePicturePlace>(&request)) return keep_picture_place(data, place->place), true;
    return false;
}

}  // namespace

bool DeskWorker::carry_out_locked(const screens::Request& request) {
    if (keep_choice(places_.data, request)) return true;
    const auto keep = [&](const char* name, const std::string& text) {
        if (const auto kept = write_file(places_.data / name, text); !kept) {
            News news;
            news.problem = kept.error();
            tell(std::move(news));
        }
        return true;
    };
    // A series that runs, and what is half typed, outlive the lock.
    if (const auto* series = std::get_if<screens::KeepSeries>(&request)) return keep("running-series.txt", screens::written(series->runs));
    if (const auto* typed = std::get_if<screens::KeepNumber>(&request)) return keep_typed(typed->number), true;
    if (const auto* time = std::get_if<screens::ChooseLockTime>(&request)) return choose_lock_time(time->minutes), true;
    if (const auto* wanted = std::get_if<screens::Unlock>(&request)) return unlock(*wanted), true;
    if (std::holds_alternative<screens::LockWindow>(request)) return lock(), true;
    if (desk_) return false;
    // Nobody sees it now; the folder is looked at anew with the unlocking.
    if (std::holds_alternative<screens::AskLookOf>(request)) return true;
    News news;
    if (std::holds_alternative<screens::ProblemUnderstood>(request)) news.understood = true;
    else
        news.problem = Problem{"The window is locked, so this was not done.", "the window", "Open it with a PIN, then do it again.",
                               ProblemKind::Refused};
    tell(std::move(news));
    return true;
}

void DeskWorker::back_up_before(const screens::Request& request) {
    const bool writes = std::holds_alternative<desk::Intent>(request) || std::holds_alternative<screens::WithPhoto>(request) ||
                        std::holds_alternative<screens::StartJob>(request) || std::holds_alternative<screens::SendPost>(request);
    const std::string today = desk::day_of(desk_->setup().now());
    if (!writes || backed_up_on_ == today) return;
    // Once a day also when it fails: the person hears of it, and works on.
    backed_up_on_ = today;
    if (const auto made = desk::back_up_if_due(*desk_); !made) {
        News news;
        news.problem = made.error();
        news.beside = true;
        tell(std::move(news));
    }
}

void DeskWorker::show_lists() { tell(lists()); }

News DeskWorker::lists() {
    News news;
    if (auto rows = desk_->job_rows()) news.jobs = std::move(*rows);
    else news.problem = rows.error(), news.beside = true;
    if (auto all = desk::messages(*desk_)) news.messages = std::move(*all);
    news.facts_files = files_in(places_.facts, {".toml"});
    return news;
}

OfferedPictures DeskWorker::pictures() const { return offered_pictures(places_.photos, places_.chosen_photos, places_.media); }

void DeskWorker::choose_photos(const std::string& path) {
    std::error_code none;  // where one of them is not there, they are not the same
    const bool is_own = path.empty() || fs::equivalent(path, places_.photos, none);
    places_.chosen_photos = is_own ? fs::path{} : fs::path{path};
    keep_photo_folder(places_.data, places_.chosen_photos.string());
    News news;
    news.pictures = pictures();
    tell(std::move(news));
}

// What else there is to choose comes with it: a card may have been pulled.
void DeskWorker::no_picture(const std::string& path, const Problem& problem) {
    std::error_code none;
    News news;
    news.problem = fs::exists(path, none)
                       ? problem
                       : Problem{"The picture is not there any more, so nothing was saved.", path,
                                 "Put the card in again and save once more, or choose another picture. What was typed is still there.",
                                 ProblemKind::Unreadable};
    news.pictures = pictures();
    tell(std::move(news));
}

void DeskWorker::show_draft(const desk::DraftStep& step) {
    auto view = desk::carry_out(*desk_, step);
    News news;
    if (!view) {
        news.problem = view.error();
    } else {
        news.list_draft = std::move(*view);
        if (step.deed == desk::DraftStep::Deed::Publish) {
            news.saved_mark = news.list_draft->said;
            if (auto table = desk::register_table(*desk_, desk::Register::Checklists)) news.registers = std::pair{desk::Register::Checklists, std::move(*table)};
        }
    }
    tell(std::move(news));
}

void DeskWorker::show_look_of(const std::string& path) {
    auto small = std::make_shared<screens::SmallPicture>();
    if (const auto bytes = read_file(path)) {
        if (auto pixels = photo::pixels_of(*bytes, path, screens::small_picture_side))
            *small = {pixels->width, pixels->height, std::move(pixels->rgb)};
    }
    News news;
    news.photo_look = std::pair{path, screens::SharedPicture{std::move(small)}};
    tell(std::move(news));
}

void DeskWorker::show_job(const std::string& job) {
    News news;
    auto view = desk_->job_view(job);
    if (!view) {
        news.problem = view.error();
        news.beside = true;
        tell(std::move(news));
        return;
    }
    // Where the window opens again; not worth a message when the disk is full.
    if (open_job_ != job) {
        open_job_ = job;
        (void)write_file(places_.data / "open-job.txt", job);
    }
    news.job = std::move(*view);
    if (auto words = desk_->page_one(job)) news.page_one = std::move(*words);
    tell(std::move(news));
}

void DeskWorker::show_week(const std::string& week) {
    shown_week_ = week;
    News news;
    if (auto view = desk::week_view(*desk_, week, desk::settings_for(shown_filter_))) news.week = std::move(*view);
    else news.problem = view.error(), news.beside = true;
    tell(std::move(news));
}

void DeskWorker::show_complaints(const std::string& job) {
    News news;
    if (auto sheet = desk::complaint_sheet(*desk_, job)) news.complaints = std::move(*sheet);
    else news.problem = sheet.error(), news.beside = true;
    tell(std::move(news));
}

void DeskWorker::intent(const desk::Intent& intent) {
    News news;
    const auto saved = [&] { news.saved_mark = "saved " + desk::text_of(desk_->setup().now()).substr(11, 8); };
    std::string job = open_job_;
    std::visit(
        [&](const auto& wanted) {
            auto done = desk_->carry_out(wanted);
            if (!done) {
                news.problem = done.error();
                return;
            }
            saved();
            using Wanted = std::decay_t<decltype(wanted)>;
            if constexpr (std::is_same_v<Wanted, desk::OpenJob>) job = *done;
            if constexpr (std::is_same_v<Wanted, desk::UndoLast>) {
                news.saved_mark = "taken back: " + done->words;
                news.undone = done->check;
            }
        },
        intent);
    tell(std::move(news));
    const bool of_week = std::holds_alternative<desk::DecideAction>(intent) || std::holds_alternative<desk::CarryOutAction>(intent) ||
                         std::holds_alternative<desk::CheckEffect>(intent) || std::holds_alternative<desk::EndAction>(intent) ||
                         std::holds_alternative<desk::DoubtInstrument>(intent) || std::holds_alternative<desk::DoubtBatch>(intent) ||
                         std::holds_alternative<desk::OpenRevisit>(intent);
    const bool of_complaint = std::holds_alternative<desk::TakeComplaint>(intent) || std::holds_alternative<desk::CloseComplaint>(intent) ||
                              std::holds_alternative<desk::VisitForComplaint>(intent);
    if ((of_week || of_complaint) && !shown_week_.empty()) show_week(shown_week_);
    std::visit(
        [&]<class Wanted>(const Wanted& wanted) {
            if constexpr (std::is_same_v<Wanted, desk::TakeComplaint> || std::is_same_v<Wanted, desk::CloseComplaint> ||
                          std::is_same_v<Wanted, desk::VisitForComplaint>)
                show_complaints(wanted.job);
        },
        intent);
    if (!job.empty()) show_job(job);
    const bool lists = std::holds_alternative<desk::OpenJob>(intent) || std::holds_alternative<desk::Sign>(intent) ||
                       std::holds_alternative<desk::HandOver>(intent) || std::holds_alternative<desk::AbandonJob>(intent) ||
                       std::holds_alternative<desk::DeferCheck>(intent) ||
                       std::holds_alternative<desk::OpenRevisit>(intent) || of_complaint;
    if (lists) show_lists();
}

void DeskWorker::carry_out(const screens::Request& request) {
    const auto trouble = [&](const Problem& problem) {
        News news;
        news.problem = problem;
        tell(std::move(news));
    };
    if (const auto* wanted = std::get_if<desk::Intent>(&request)) {
        intent(*wanted);
    } else if (const auto* ask = std::get_if<screens::AskPreview>(&request)) {
        desk::TakeReading reading{.job = ask->job, .check = ask->check, .place = ask->place, .text = ask->text,
                                  .instrument = ask->instrument, .photo = std::nullopt, .photo_name = "", .caption = "",
                                  .read_at = "", .by = "", .sure = false};
        News news;
        // What cannot be read yet is half typed; the screen shows no verdict then.
        if (auto preview = desk_->preview(reading)) {
            news.preview = screens::PreviewOf{*ask, std::move(*preview)};
        } else {
            desk::Preview nothing;
            nothing.why = preview.error().what;
            news.preview = screens::PreviewOf{*ask, nothing};
        }
        tell(std::move(news));
    } else if (const auto* open = std::get_if<screens::OpenJobView>(&request)) {
        show_job(open->job);
    } else if (const auto* week = std::get_if<screens::AskWeek>(&request)) {
        std::string name = week->week;
        shown_filter_ = week->filter;
        if (name.empty())
            if (const auto all = desk::weeks(*desk_); all && !all->empty()) name = all->back();
        if (!name.empty()) return show_week(name);
        News news;
        news.no_week = true;
        tell(std::move(news));
    } else if (const auto* trace = std::get_if<screens::AskTrace>(&request)) {
        auto view = desk::trace_view(*desk_, {trace->instrument, trace->from, trace->until, trace->batch});
        if (!view) return trouble(view.error());
        News news;
        news.trace = std::move(*view);
        tell(std::move(news));
    } else if (const auto* photo = std::get_if<screens::WithPhoto>(&request)) {
        auto bytes = read_file(photo->path);
        if (!bytes) return no_picture(photo->path, bytes.error());
        auto with_photo = photo->intent;
        auto* correction = std::get_if<desk::CorrectFault>(&with_photo);
        auto* reading = correction != nullptr ? &correction->reading : std::get_if<desk::TakeReading>(&with_photo);
        if (reading != nullptr) {
            reading->photo = std::move(*bytes);
            reading->photo_name = photo->path;
            reading->keep_position = read_window_settings(places_.data).picture_place == screens::PicturePlace::Kept;
        }
        intent(with_photo);
    } else if (const auto* start = std::get_if<screens::StartJob>(&request)) {
        std::string text;
        if (!start->facts_path.empty()) {
            auto read = read_file(start->facts_path);
            if (!read) return trouble(read.error());
            text = std::move(*read);
        }
        intent(desk::OpenJob{start->checklist, text, start->facts_path, start->after, start->practice});
    } else if (std::holds_alternative<screens::SavePost>(request)) {
        const auto files = desk::messages_as_files(*desk_);
        if (!files) return trouble(files.error());
        for (const auto& file : *files)
            if (const auto done = write_file(places_.data / "outbox" / file.file_name, file.bytes); !done)
                return trouble(done.error());
        News news;
        news.saved_mark = fmt::format("{} message(s) saved in {}", files->size(), (places_.data / "outbox").string());
        tell(std::move(news));
    } else if (std::holds_alternative<screens::SendPost>(request)) {
        const auto posted = desk::send_messages(*desk_, sender_of(places_.data), desk::Which::AllWaiting);
        if (!posted) trouble(posted.error());
        show_lists();
    } else if (const auto* wanted_register = std::get_if<screens::AskRegister>(&request)) {
        auto table = desk::register_table(*desk_, wanted_register->which);
        if (!table) return trouble(table.error());
        News news;
        news.registers = std::pair{wanted_register->which, std::move(*table)};
        tell(std::move(news));
    } else if (std::holds_alternative<screens::AskFiles>(request)) {
        News news = lists();
        news.pictures = pictures();
        tell(std::move(news));
    } else if (const auto* folder = std::get_if<screens::ChoosePhotoFolder>(&request)) {
        choose_photos(folder->path);
    } else if (const auto* step = std::get_if<desk::DraftStep>(&request)) {
        show_draft(*step);
    } else if (const auto* look_of = std::get_if<screens::AskLookOf>(&request)) {
        show_look_of(look_of->path);
    } else if (const auto* asked = std::get_if<screens::AskParts>(&request)) {
        auto list = desk::pick_list(*desk_, asked->job);
        if (!list) return trouble(list.error());
        News news;
        news.parts = std::move(*list);
        tell(std::move(news));
    } else if (const auto* asked_of = std::get_if<screens::AskComplaints>(&request)) {
        show_complaints(asked_of->job);
    } else if (const auto* sheet_of = std::get_if<screens::SaveParts>(&request)) {
        const auto list = desk::pick_list(*desk_, sheet_of->job);
        if (!list) return trouble(list.error());
        const auto sheet = desk::pick_sheet(*desk_, *list);
        if (!sheet) return trouble(sheet.error());
        const auto file = places_.data / "outbox" / ("parts-" + sheet_of->job + ".pdf");
        if (const auto kept = write_file(file, *sheet); !kept) return trouble(kept.error());
        News news;
        news.saved_mark = "saved as " + file.string();
        tell(std::move(news));
    } else if (const auto* days = std::get_if<screens::AskPlan>(&request)) {
        auto plan = desk::day_plan(*desk_, days->first, days->last, "");
        if (!plan) return trouble(plan.error());
        News news;
        news.plan = std::move(*plan);
        tell(std::move(news));
    } else if (const auto* wanted_days = std::get_if<screens::SavePlan>(&request)) {
        const auto plan = desk::day_plan(*desk_, wanted_days->first, wanted_days->last, "");
        if (!plan) return trouble(plan.error());
        const auto calendar = desk::calendar_of(*desk_, *plan);
        if (!calendar) return trouble(calendar.error());
        const auto file = places_.data / "outbox" / ("plan-" + wanted_days->first + ".ics");
        if (const auto kept = write_file(file, *calendar); !kept) return trouble(kept.error());
        News news;
        news.saved_mark = "saved as " + file.string();
        tell(std::move(news));
    } else if (const auto* report_of = std::get_if<screens::SaveReport>(&request)) {
        const auto report = desk_->sealed_report(report_of->job);
        if (!report) return trouble(report.error());
        const auto file = places_.data / "reports" / (report_of->job + ".pdf");
        if (const auto kept = write_file(file, *report); !kept) return trouble(kept.error());
        News news;
        news.report_file = file.string();
        news.saved_mark = "saved as " + file.string();
        tell(std::move(news));
    } else if (const auto* given = std::get_if<screens::GivePin>(&request)) {
        give_pin(*given);
    } else if (const auto* taken = std::get_if<screens::TakePinAway>(&request)) {
        take_pin_away(*taken);
    } else if (std::holds_alternative<screens::ProblemUnderstood>(request)) {
        News news;
        news.understood = true;
        tell(std::move(news));
    }
}

}  // namespace wm::app
