// The lock of the window: the desk goes and comes with the person.
#include <fmt/format.h>

#include "app/desk_worker.hpp"
#include "app/half_typed.hpp"
#include "app/window_settings.hpp"
#include "desk/access.hpp"
#include "desk/lost_entries.hpp"
#include "desk/permission.hpp"
#include "digest/pin.hpp"

namespace wm::app {

namespace {

Sealing sealing_of(const std::optional<desk::Desk>& desk) {
    if (!desk) return {};
    return {desk->journal().keys().sealing_key(), desk->setup().random};
}

/// Also where the list of persons cannot be read.
bool has_pins(const std::filesystem::path& data) {
    const auto people = store::People::read(data);
    return !people || !people->empty();
}

}  // namespace

void DeskWorker::look_at_lock(std::string answer, bool refused) {
    const auto people = store::People::read(places_.data);
    lock_.people.clear();
    if (people) {
        for (const auto& person : people->all())
            lock_.people.push_back({person.name, std::string{store::word_of(person.role)},
                                    (people->not_before_ms(person.name, places_.now().wall_ms) + 999) / 1000});
    } else if (answer.empty()) {
        answer = people.error().what + " " + people.error().what_to_do;
        refused = true;
    }
    lock_.person = desk_ && desk_->setup().person ? desk_->setup().person->name : "";
    lock_.answer = std::move(answer);
    lock_.refused = refused;
}

void DeskWorker::show_lock(std::string answer, bool refused) {
    look_at_lock(std::move(answer), refused);
    News news;
    news.lock = lock_;
    tell(std::move(news));
}

void DeskWorker::show_all() {
    look_at_lock("", false);
    News news = lists();
    news.pictures = pictures();
    news.lock = lock_;
    news.settings = settings_view(*desk_);
    news.checklists.emplace();
    for (const auto& list : desk_->library().checklists) news.checklists->push_back(list.name);
    look_after_typed(news);
    if (const auto& lost = desk_->journal().lost_at_opening()) {
        news.problem = desk::words_on_loss(*desk_, *lost);
        news.beside = true;
    }
    tell(std::move(news));
    if (!open_job_.empty()) show_job(open_job_);
    if (!shown_week_.empty()) show_week(shown_week_);
}

// The desk is closed and not only hidden: its keys are gone from here, and another program may write meanwhile.
void DeskWorker::lock() {
    desk_.reset();
    show_lock("", false);
}

void DeskWorker::keep_typed(const screens::KeptNumber& number) {
    typed_waits_.reset();
    if (!desk_ && !number.job.empty() && has_pins(places_.data)) {
        typed_waits_ = number;
        return;
    }
    const auto kept = keep_half_typed(places_.data, number, sealing_of(desk_));
    if (kept) return;
    News news;
    news.problem = kept.error();
    tell(std::move(news));
}

void DeskWorker::look_after_typed(News& news) {
    const auto sealing = sealing_of(desk_);
    if (!typed_told_) {
        typed_told_ = true;
        auto typed = read_half_typed(places_.data, sealing.key);
        if (typed) news.typed = std::move(*typed);
        else news.problem = typed.error();
    }
    const auto sealed = typed_waits_ ? keep_half_typed(places_.data, *typed_waits_, sealing) : seal_half_typed(places_.data, sealing);
    typed_waits_.reset();
    if (!sealed) news.problem = sealed.error();
}

void DeskWorker::choose_lock_time(int minutes) {
    const bool asks_a_lead = has_pins(places_.data) && stays_open_longer(minutes, read_window_settings(places_.data).lock_minutes);
    Result<void> fine;
    if (asks_a_lead && desk_) fine = desk::may(desk_->setup(), store::Role::Lead, let_it_stay_open);
    if (asks_a_lead && !desk_)
        fine = refused({"The window is locked, so this was not done.", "the window", "Open it with a PIN, then do it again.", ProblemKind::Refused});
    News news;
    if (fine) {
        keep_lock_minutes(places_.data, minutes);
        lock_.minutes = minutes;
        news.lock = lock_;
    } else {
        news.problem = fine.error();
    }
    tell(std::move(news));
}

void DeskWorker::unlock(const screens::Unlock& wanted) {
    ++lock_.answers;
    // The same folder cannot be opened twice to write.
    desk_.reset();
    auto desk = open_ ? open_(wanted.name, wanted.pin)
                      : Result<desk::Desk>{refused({"No PIN opens this window.", "access", "Start it anew.", ProblemKind::Refused})};
    if (!desk) return show_lock(desk.error().what + " " + desk.error().what_to_do, true);
    desk_ = std::move(*desk);
    ++lock_.unlocked;
    show_all();
}

bool DeskWorker::is_own_pin(const std::string& pin) {
    ++lock_.answers;
    const auto& person = desk_->setup().person;
    if (!person) return true;  // nobody has a PIN yet
    auto people = store::People::read(places_.data);
    if (!people) return show_lock(people.error().what, true), false;
    auto in = people->unlocked(person->name, pin, places_.now().wall_ms);
    if (!in) return show_lock(in.error().what + " " + in.error().what_to_do, true), false;
    digest::wipe(in->sealing_key);
    return true;
}

void DeskWorker::give_pin(const screens::GivePin& wanted) {
    if (!is_own_pin(wanted.own_pin)) return;
    const bool is_first = !desk_->setup().person;
    const auto given = desk::give_pin(*desk_, wanted.name, store::role_named(wanted.role), wanted.pin);
    if (!given) return show_lock(given.error().what + " " + given.error().what_to_do, true);
    // From the first PIN on nobody works without one: who gave it is at work under it.
    if (is_first) return unlock({wanted.name, wanted.pin});
    show_lock(fmt::format("{} has a PIN as {}.", given->name, store::word_of(given->role)), false);
}

void DeskWorker::take_pin_away(const screens::TakePinAway& wanted) {
    if (!is_own_pin(wanted.own_pin)) return;
    if (const auto done = desk::take_pin_away(*desk_, wanted.name); !done)
        return show_lock(done.error().what + " " + done.error().what_to_do, true);
    show_lock(fmt::format("{} has no PIN any more.", wanted.name), false);
}

}  // namespace wm::app
