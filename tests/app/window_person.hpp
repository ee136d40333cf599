// A person at a headless window with a desk behind it: works a job through by one finger or by keys alone, and counts.
#pragma once

#include <condition_variable>
#include <fmt/format.h>

#include <cctype>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "app/desk_worker.hpp"
#include "app/world.hpp"
#include "demo/robot.hpp"
#include "screens/more_panel.hpp"
#include "screens/number_panel.hpp"
#include "screens/testing.hpp"

namespace wm::app::testing {

/// One deed of the hand.
struct Deed {
    enum class Kind { Tap, Key, Drag } kind = Kind::Tap;
    std::string what;   ///< path of the widget, or the key
    std::string check;  ///< at hand when it was done; "" outside the run
    float x_mm = 0.0F, y_mm = 0.0F, across_mm = 0.0F;  ///< middle of what was touched, and its lesser side
};

enum class Hand { OneFinger, KeysAlone };

class Person {
public:
    /// A window of that many pixels on the desk of `data`; `at` is what the clock shows all the time.
    Person(const std::filesystem::path& data, const std::string& at, Hand hand, float width_px, float height_px)
        : glass_{width_px, height_px, {}}, hand_{hand} {
        Arguments arguments;
        arguments.options.emplace("data", data.string());
        arguments.options.emplace("at", at);
        const auto world = world_for(arguments);
        if (!world) return;
        auto desk = open_desk(*world, desk::Access::Write);
        if (!desk) return;
        std::vector<std::string> lists;
        for (const auto& list : desk->library().checklists) lists.push_back(list.name);
        worker_ = std::make_unique<DeskWorker>(std::move(*desk), WorkerPlaces{data, data.parent_path() / "photos", data.parent_path()},
                                               [this] { woken(); });
        glass_.desk_answers = false;
        glass_.world = {};
        glass_.world.checklists = lists;
        glass_.world.moment = {at, opened_epoch_s, 100.0};
        settle();
    }

    [[nodiscard]] bool ready() const { return worker_ != nullptr; }
    screens::testing::Glass& glass() { return glass_; }
    [[nodiscard]] const desk::JobView* job() const { return glass_.world.job ? &*glass_.world.job : nullptr; }
    [[nodiscard]] const std::vector<Deed>& deeds() const { return deeds_; }
    /// What the person could not do, in words; empty if all went well.
    [[nodiscard]] const std::vector<std::string>& troubles() const { return troubles_; }

    void open_first_job() {
        go("header/jobs", GLFW_KEY_F2);
        settle();
        if (glass_.world.jobs.empty()) return trouble("no job is listed");
        use("jobs/list/" + glass_.world.jobs.front().job);
        settle();
    }

    void start_tutorial() {
        go("header/jobs", GLFW_KEY_F2);
        settle();
        use("jobs/list/try it");
        settle();
    }

    /// Every check that is led to, until nothing is left to read; what cannot be read on this day is put off.
    void work_through(const std::vector<std::string>& put_off, demo::Dice& dice) {
        for (int step = 0; step < 400 && troubles_.empty(); ++step) {
            settle();
            const auto* check = at_hand();
            if (check == nullptr) return trouble(fmt::format("no check is at hand on screen {}", static_cast<int>(glass_.drafts.screen)));
            const std::string id = check->id;
            const bool later = std::find(put_off.begin(), put_off.end(), id) != put_off.end();
            if (check->outcome == measure::Outcome::Open && later) defer();
            else if (check->outcome == measure::Outcome::Open) answer(*check, dice);
            settle();
            if (glass_.drafts.run.check != id) continue;
            // Still here: what was read did not settle it, or it is done. On with the key.
            go("run/next", GLFW_KEY_PAGE_DOWN);
            settle();
            if (glass_.drafts.screen == screens::Screen::SignOff) return;
            if (glass_.drafts.run.check == id) return trouble("next does not lead on from " + id);
        }
    }

    void sign_and_hand_over(const std::string& crew, const std::string& customer) {
        if (glass_.drafts.screen != screens::Screen::SignOff) go("header/sign-off", GLFW_KEY_F4);
        for (const auto& [role, name] : {std::pair{"crew", crew}, std::pair{"customer", customer}}) {
            settle();
            use(std::string{"sign/"} + role);
            write("sign/name", name);
            if (hand_ == Hand::OneFinger) draw_signature();
            else use("sign/no pen");
            use("sign/sign");
            settle();
        }
        use("sign/hand over");
        settle();
    }

    /// Until the desk has answered all that was asked.
    void settle() {
        for (int quiet = 0; quiet < 3;) {
            (void)glass_.frame();
            ++quiet;
            if (post_new()) quiet = 0;
            if (wait_for_desk()) quiet = 0;
        }
    }

private:
    static constexpr std::int64_t opened_epoch_s = 1'804'144'200;

    void woken() {
        const std::lock_guard lock{mutex_};
        ++calls_;
        changed_.notify_all();
    }

    bool post_new() {
        bool any = false;
        for (; seen_ < glass_.all.size(); ++seen_) {
            const auto& request = glass_.all[seen_];
            if (std::holds_alternative<screens::RingTone>(request)) {
                ++rung_;
                continue;
            }
            worker_->post(request);
            ++pending_;
            glass_.world.saving = true;
            any = true;
        }
        return any;
    }

    bool wait_for_desk() {
        if (!listened_) {
            std::unique_lock lock{mutex_};
            changed_.wait(lock, [&] { return calls_ > 0; });
            listened_ = true;
        }
        bool any = false;
        while (true) {
            for (auto& news : worker_->news()) {
                take_in(glass_.world, news, pending_);
                any = true;
            }
            if (pending_ == 0) break;
            std::unique_lock lock{mutex_};
            const int seen = calls_;
            changed_.wait_for(lock, std::chrono::milliseconds{20}, [&] { return calls_ > seen; });
        }
        glass_.world.saving = pending_ > 0;
        return any;
    }

    const desk::CheckView* at_hand() {
        return job() == nullptr ? nullptr : screens::check_at_hand(*job(), glass_.drafts.run);
    }

    void trouble(std::string words) { troubles_.push_back(std::move(words)); }

    std::string here() const {
        return glass_.drafts.screen == screens::Screen::Run ? glass_.drafts.run.check : std::string{};
    }

    /// A human hand takes its time; so do water and sun.
    void pass(double seconds) {
        clock_s_ += seconds;
        glass_.world.moment.epoch_s = opened_epoch_s + static_cast<std::int64_t>(clock_s_);
        glass_.world.moment.monotonic_s += seconds;
        (void)glass_.frame();
    }

    // ---- one finger -------------------------------------------------------------------------------------------------

    void note_tap(const screens::Spot& spot, const std::string& name) {
        const float scale = glass_.dress.metrics.px_per_mm;
        deeds_.push_back({Deed::Kind::Tap, name, here(), (spot.rect.x + spot.rect.w / 2.0F) / scale,
                          (spot.rect.y + spot.rect.h / 2.0F) / scale, std::min(spot.rect.w, spot.rect.h) / scale});
    }

    /// Scrolls by dragging until the middle of the widget can be touched.
    bool bring_into_view(const std::string& name) {
        for (int i = 0; i < 60; ++i) {
            (void)glass_.frame();
            if (!glass_.shows(name)) return false;
            const auto spot = glass_.spot(name);
            if (spot.reachable) return true;
            // The area is where its neighbours are seen: under the finger of whoever looks for the widget.
            const float x = spot.rect.x + spot.rect.w / 2.0F;
            const auto anchor = seen_near(name, x);
            if (!anchor) return false;
            const float y = anchor->y + anchor->h / 2.0F;
            const float by = spot.rect.y > y ? -60.0F : 60.0F;
            glass_.put_finger(x, y);
            for (int step = 1; step <= 6; ++step) glass_.move_finger(x, y + by * static_cast<float>(step) / 6.0F);
            glass_.lift_finger();
            deeds_.push_back({Deed::Kind::Drag, name, here(), 0, 0, 0});
        }
        return false;
    }

    std::optional<screens::Rect> seen_near(const std::string& name, float x) {
        const std::string folder = name.substr(0, name.rfind('/'));
        for (const auto& [path, spot] : glass_.probe.spots)
            if (path != name && path.starts_with(folder + "/") && spot.reachable && x >= spot.rect.x && x <= spot.rect.right())
                return spot.rect;
        return std::nullopt;
    }

    void tap(const std::string& name) {
        if (!bring_into_view(name)) return trouble("cannot touch " + name + " at " + here());
        pass(0.7);
        note_tap(glass_.spot(name), name);
        if (!glass_.press(name)) trouble("cannot press " + name + " at " + here());
        settle();
    }

    // ---- keys alone -------------------------------------------------------------------------------------------------

    void strike(int key, std::string_view called) {
        pass(0.3);
        deeds_.push_back({Deed::Kind::Key, std::string{called}, here(), 0, 0, 0});
        glass_.strike(key);
        settle();
    }

    void type(std::string_view letters) {
        for (const char letter : letters) {
            deeds_.push_back({Deed::Kind::Key, std::string{letter}, here(), 0, 0, 0});
            pass(0.3);
            const char text[] = {letter, '\0'};
            glass_.type(text);
        }
        settle();
    }

    /// The ring by Tab to the widget.
    bool ring(const std::string& name) {
        for (int i = 0; i < 260; ++i) {
            if (glass_.drafts.attention.at == name) return true;
            deeds_.push_back({Deed::Kind::Key, "Tab", here(), 0, 0, 0});
            tab();
        }
        trouble("the ring never comes to " + name + " at " + here());
        return false;
    }

    /// No hand strikes the next key within two frames.
    void tab() {
        glass_.strike(GLFW_KEY_TAB);
        (void)glass_.frame();
        (void)glass_.frame();
    }

    // ---- either -----------------------------------------------------------------------------------------------------

    void use(const std::string& name) {
        if (hand_ == Hand::OneFinger) return tap(name);
        if (ring(name)) strike(GLFW_KEY_SPACE, "Space");
    }

    void go(const std::string& name, int key) {
        if (hand_ == Hand::OneFinger) return tap(name);
        strike(key, name);
    }

    void write(const std::string& field, const std::string& text) {
        if (hand_ == Hand::KeysAlone) {
            if (ring(field)) type(text);
            return;
        }
        tap(field);
        if (!glass_.drafts.board.shown) tap("header/letters");
        for (const char letter : text) {
            if (letter == ' ') tap("letters/space");
            else if (std::isupper(static_cast<unsigned char>(letter)) != 0) {
                tap("letters/capital");
                tap(std::string{"letters/"} + static_cast<char>(std::tolower(letter)));
            } else {
                tap(std::string{"letters/"} + letter);
            }
        }
        tap("letters/done");
    }

    void number(const std::string& text, const std::string& keypad) {
        const std::string digits = text.substr(0, text.find_first_not_of("0123456789.,-"));
        if (hand_ == Hand::KeysAlone) {
            type(digits);
            return strike(GLFW_KEY_ENTER, "Enter");
        }
        for (const char sign : digits) tap(keypad + (sign == '-' ? std::string{"sign"} : std::string{sign}));
        tap(keypad + "save");
    }

    void choose_place(const std::string& place) {
        for (int i = 0; i < 40 && glass_.drafts.run.place != place; ++i) {
            if (hand_ == Hand::OneFinger) return tap("run/check/places/" + (place.empty() ? std::string{"all"} : place));
            const auto* check = at_hand();
            const auto index = [&](const std::string& name) {
                for (std::size_t k = 0; k < check->places.size(); ++k)
                    if (check->places[k].name == name) return k;
                return std::size_t{0};
            };
            const bool back = index(place) < index(glass_.drafts.run.place);
            strike(back ? GLFW_KEY_LEFT : GLFW_KEY_RIGHT, back ? "Left" : "Right");
        }
    }

    void take_photo() {
        if (glass_.world.photo_files.empty()) return trouble("no picture is offered");
        use("run/photo");
        use("run/photo/pictures/" + glass_.world.photo_files.front());
        use("run/photo/use");
    }

    bool is_asked_back(const std::string& check) const {
        const auto& run = glass_.drafts.run;
        const auto* preview = screens::preview_now(glass_.world, run);
        return run.check == check && !run.said_asked && preview != nullptr && preview->needs_sure;
    }

    void save_number() {
        if (hand_ == Hand::OneFinger) tap("run/check/keypad/save");
        else strike(GLFW_KEY_ENTER, "Enter");
        settle();
    }

    void answer(const desk::CheckView& shown, demo::Dice& dice) {
        const desk::CheckView check = shown;
        for (const auto& entry : demo::entries_for(check, demo::Wish::Right, dice)) {
            if (!troubles_.empty() || glass_.drafts.run.check != check.id) return;
            if (!check.places.empty()) choose_place(entry.place);
            const auto form = screens::form_at_hand(check, glass_.drafts.run);
            if (entry.photo && check.photo == "required" && form != desk::EntryForm::Photo) take_photo();
            switch (form) {
                case desk::EntryForm::YesNo:
                    if (hand_ == Hand::OneFinger) tap("run/check/" + entry.text);
                    else {
                        type(entry.text.substr(0, 1));
                        strike(GLFW_KEY_ENTER, "Enter");
                    }
                    break;
                case desk::EntryForm::Choice: choice(check, entry.text); break;
                case desk::EntryForm::Number:
                    number(entry.text, "run/check/keypad/");
                    settle();
                    // What is asked back is looked at and stands: once for "Is it so?", once for "Save, it is so".
                    for (int press = 0; press < 2 && is_asked_back(check.id); ++press) save_number();
                    // What is said with the figure was read, and is so.
                    if (!glass_.drafts.run.said_asked) break;
                    save_number();
                    break;
                case desk::EntryForm::Series: series(entry.text); break;
                case desk::EntryForm::Text:
                    write("run/check/text", "as listed");
                    use("run/check/save");
                    break;
                case desk::EntryForm::Photo:
                    if (glass_.world.photo_files.empty()) return trouble("no picture is offered");
                    use("run/check/photo/pictures/" + glass_.world.photo_files.front());
                    use("run/check/photo/save");
                    break;
                case desk::EntryForm::Signature:
                case desk::EntryForm::None: break;
            }
            settle();
            if (glass_.world.problem) return trouble(check.id + ": " + glass_.world.problem->what);
        }
    }

    void choice(const desk::CheckView& check, const std::string& text) {
        const auto* place = screens::place_at_hand(check, glass_.drafts.run);
        const bool own = place != nullptr && !(place->accepted.empty() && place->refused.empty());
        const auto& answers = own ? place->accepted : check.accepted;
        const auto at = std::find(answers.begin(), answers.end(), text) - answers.begin();
        if (hand_ == Hand::OneFinger) return tap("run/check/answers/" + text);
        type(std::to_string(at + 1));
        strike(GLFW_KEY_ENTER, "Enter");
    }

    /// "0 min=480 kPa; 2 min=479 kPa; water start=18.2 °C", or with channels "0 min: riser=41 °C, downcomer=33 °C".
    void series(const std::string& text) {
        use("run/check/series/start");
        std::size_t from = 0;
        std::optional<double> first;
        while (from < text.size() && troubles_.empty()) {
            const std::size_t end = std::min(text.find(';', from), text.size());
            std::string item = text.substr(from, end - from);
            from = end + 1;
            item.erase(0, item.find_first_not_of(' '));
            if (item.empty()) continue;
            const auto minutes = item.find(" min");
            if (minutes != std::string::npos && item.find_first_not_of("0123456789") == minutes) {
                // The clock of a series begins with its first reading.
                if (first) pass(std::max(0.0, *first + 60.0 * std::stoi(item) - clock_s_));
                const double due = clock_s_;
                item.erase(0, minutes + 5);
                while (!item.empty()) {
                    const std::size_t comma = std::min(item.find(','), item.size());
                    std::string one = item.substr(0, comma);
                    one = one.substr(one.find('=') == std::string::npos ? 0 : one.find('=') + 1);
                    number(one, "run/check/series/keypad/");
                    item.erase(0, std::min(item.size(), comma + 1));
                }
                if (!first) first = clock_s_;
                if (clock_s_ - due > 110.0) trouble("a reading of the series took longer than its interval");
                continue;
            }
            const std::string name = item.substr(0, item.find('='));
            use("run/check/series/to " + name);
            number(item.substr(item.find('=') + 1), "run/check/series/keypad/");
        }
        use("run/check/series/finish");
    }

    void defer() {
        use("run/more");
        use("run/more/keys/put off");
        const auto* check = at_hand();
        if (check == nullptr || check->defer_reasons.empty()) return trouble("no reason is offered for putting off " + here());
        use("run/more/fields/" + check->defer_reasons.front());
        use("run/more/fields/" + screens::day_after(glass_.world.moment.now, 1));
        use("run/more/fields/" + job()->row.crew);
        use("run/more/put off");
    }

    void draw_signature() {
        (void)glass_.frame();
        const auto pad = glass_.spot("sign/pad").rect;
        const float y = pad.y + pad.h / 2.0F;
        glass_.put_finger(pad.x + 20.0F, y);
        for (int i = 1; i <= 12; ++i)
            glass_.move_finger(pad.x + 20.0F + 8.0F * static_cast<float>(i), y + (i % 2 == 0 ? 12.0F : -12.0F));
        glass_.lift_finger();
        deeds_.push_back({Deed::Kind::Drag, "sign/pad", here(), 0, 0, 0});
    }

    screens::testing::Glass glass_;
    Hand hand_;
    std::unique_ptr<DeskWorker> worker_;
    std::mutex mutex_;
    std::condition_variable changed_;
    int calls_ = 0;
    bool listened_ = false;
    int pending_ = 0;
    int rung_ = 0;
    double clock_s_ = 0.0;  ///< since the window was opened
    std::size_t seen_ = 0;
    std::vector<Deed> deeds_;
    std::vector<std::string> troubles_;
};

}  // namespace wm::app::testing
