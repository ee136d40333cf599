// Settings screen.
#include "screens/settings_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "screens/number_panel.hpp"
#include "screens/screen_canvas.hpp"
#include "units/reading.hpp"

namespace wm::screens {
namespace {

struct Help {
    std::string_view keys;
    std::string_view deed;
};

constexpr std::array helps{
    Help{"F2 to F7", "Jobs, Check, Sign-off, Outbox, Week, Settings"},
    Help{"F1", "these keys"},
    Help{"Page down, Page up", "next and previous check"},
    Help{"0 to 9 . , −", "type a value; point and comma mean the same"},
    Help{"Enter", "save the value, or press the ringed key"},
    Help{"Backspace", "take the last sign away"},
    Help{"Y, N", "put the ring on yes or no; Enter gives it"},
    Help{"1 to 9", "put the ring on an answer; Enter gives it"},
    Help{"Left, Right", "other place of the same check"},
    Help{"Tab, Shift+Tab, Space", "move the ring and press"},
    Help{"Escape", "back to the reading"},
    Help{"Ctrl+Z", "undo the last entry (it stays in the journal)"},
    Help{"Ctrl+L", "wipe lock on and off"},
    Help{"Ctrl + and Ctrl −", "larger and smaller text"},
};

void looks(Touch& touch, const Rect& at, Requests& requests) {
    const std::vector<Rect> cells = columns(at, 3, touch.gap());
    struct Choice {
        Look look;
        std::string_view small;
    };
    constexpr std::array choices{Choice{Look::Day, "outdoors, shade"},
                                 Choice{Look::Night, "attic, cellar"},
                                 Choice{Look::Sun, "full sun"}};
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (key(touch, in_words(choices[i].look), cells[i],
                {.words = in_words(choices[i].look),
                 .small = choices[i].small,
                 .state =
                     choices[i].look == touch.theme.look ? KeyState::Chosen : KeyState::Ready})) {
            requests.emplace_back(ChooseLook{choices[i].look});
        }
    }
}

void text_sizes(Touch& touch, const Rect& at, Requests& requests) {
    const std::vector<Rect> cells = columns(at, 3, touch.gap());
    constexpr std::array sizes{100, 150, 200};
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        const std::string words = fmt::format("{} %", sizes[i]);
        if (key(touch, words, cells[i],
                {.words = words,
                 .state = sizes[i] == touch.metrics.text_percent ? KeyState::Chosen
                                                                 : KeyState::Ready})) {
            requests.emplace_back(ChooseTextSize{sizes[i]});
        }
    }
}

void sounds(Touch& touch, const Rect& at, Sound now, Requests& requests) {
    const std::vector<Rect> cells = columns(at, 2, touch.gap());
    const auto one = [&](std::string_view name, std::string_view words, Sound sound, const Rect& cell) {
        if (key(touch, name, cell, {.words = words, .state = sound == now ? KeyState::Chosen : KeyState::Ready}))
            requests.emplace_back(ChooseSound{sound});
    };
    one("sound on", "Tones", Sound::On, cells[0]);
    one("sound off", "Silent", Sound::Off, cells[1]);
}

void picture_places(Touch& touch, const Rect& at, PicturePlace now, Requests& requests) {
    const std::vector<Rect> cells = columns(at, 2, touch.gap());
    const auto one = [&](std::string_view words, PicturePlace place, const Rect& cell) {
        if (key(touch, words, cell, {.words = words, .state = place == now ? KeyState::Chosen : KeyState::Ready}))
            requests.emplace_back(ChoosePicturePlace{place});
    };
    one("Left out", PicturePlace::LeftOut, cells[0]);
    one("In the caption", PicturePlace::Kept, cells[1]);
}

constexpr float ruler_key_mm = 26.0F;

/// How long a line has room between the keys: 50 mm on all but the smallest glass.
int ruler_length_mm(const Touch& touch, float width) {
    const float room = width - 2.0F * (touch.mm(ruler_key_mm) + touch.gap());
    for (const int length : {50, 40, 30, 20})
        if (static_cast<float>(length) * touch.metrics.on_tape() <= room) return length;
    return 10;
}

/// A line that should be so long on the glass, and keys to make it so. It is drawn in true millimetres: on a glass that
/// everything shrank to fit, those of the window are shorter, and kept as the scale they would shrink every larger glass too.
void ruler(Touch& touch, const Rect& at, int length, Requests& requests) {
    Rect rest = at;
    const Rect shorter = cut_left(rest, touch.mm(ruler_key_mm), touch.gap());
    const Rect longer = cut_right(rest, touch.mm(ruler_key_mm), touch.gap());
    constexpr float step = 1.02F;
    if (key(touch, "shorter", shorter, {.words = "shorter", .face = Face::Small})) {
        requests.emplace_back(ChooseScale{touch.metrics.on_tape() / step});
    }
    if (key(touch, "longer", longer, {.words = "longer", .face = Face::Small})) {
        requests.emplace_back(ChooseScale{touch.metrics.on_tape() * step});
    }
    ScreenCanvas canvas{touch, rest};
    const drawing::Box sheet = canvas.sheet();
    const double mm = static_cast<double>(touch.metrics.on_tape() / touch.metrics.px_per_mm);
    const double left = (sheet.width - length * mm) / 2.0;
    const double y = sheet.height * 0.72;
    canvas.line({left, y}, {left + length * mm, y}, {drawing::Ink::Text, 0.4});
    note_spot(touch, "line", {rest.x + touch.mm(static_cast<float>(left)), rest.y, static_cast<float>(length) * touch.metrics.on_tape(),
                              touch.mm(static_cast<float>(y))});
    for (int mark = 0; mark <= length; mark += 5) {
        const double tall = mark % 10 == 0 ? 3.0 : 1.6;
        canvas.line({left + mark * mm, y}, {left + mark * mm, y - tall}, {drawing::Ink::Text, 0.3});
    }
}

void company(Touch& touch, ScrollArea& area, const desk::SettingsView& settings) {
    area.heading("Company");
    area.words(settings.company.empty() ? "No company is named yet." : settings.company);
    if (!settings.company_contact.empty()) area.words(settings.company_contact);
    area.words("Fingerprint of our seal: " + settings.fingerprint, Face::Small, touch.theme.text);
    if (!settings.fingerprint_published.empty()) {
        area.words("Published at: " + settings.fingerprint_published, Face::Small,
                   touch.theme.text);
    }
    area.words(settings.keys_sealed ? "The keys are locked with a PIN."
                                    : "The keys are NOT locked with a PIN: whoever has this device "
                                      "can sign as the company.");
    if (!settings.not_exchanged.empty()) area.words(settings.not_exchanged);
    area.words(fmt::format("Device {} · data in {}", settings.device, settings.data_folder),
               Face::Small, touch.theme.quiet);
    area.words(settings.mail_server.empty()
                   ? std::string{"No mail server is set: reports are saved as mail files."}
                   : fmt::format("Mail through {} as {}", settings.mail_server, settings.mail_from),
               Face::Small, touch.theme.quiet);
}

void instruments(Touch& touch, ScrollArea& area, const World& world) {
    if (!world.job) return;
    area.heading("Instruments of this job");
    std::vector<std::string> shown;
    for (const desk::CheckView& check : world.job->checks) {
        for (const desk::InstrumentView& one : check.instruments) {
            if (std::find(shown.begin(), shown.end(), one.id) != shown.end()) continue;
            shown.push_back(one.id);
            area.words(fmt::format("{}: ± {}, calibrated until {}{}", instrument_words(one),
                                   one.uncertainty, one.due, one.in_date ? "" : ", OUT OF DATE"));
        }
    }
    if (shown.empty()) area.words("None registered.", Face::Body, touch.theme.text);
}

void keyboard_help(Touch& touch, ScrollArea& area) {
    area.heading("Keys of the keyboard");
    for (const Help& help : helps) {
        Rect row = area.take(em_px(Face::Body, touch.metrics) * 1.25F);
        const Rect left = cut_left(row, row.w * 0.38F, touch.mm(2.0F));
        line_of_text(touch, left, help.keys, {.face = Face::Body, .colour = touch.theme.text});
        line_of_text(touch, row, help.deed, {.face = Face::Small, .colour = touch.theme.quiet});
    }
}

}  // namespace

namespace {

/// What the screen shows: this device, or one of the registers.
void page_keys(Touch& touch, const Rect& at, RegisterDraft& draft, AccessDraft& access, Requests& requests) {
    const Scope scope{touch, "page"};
    struct Page {
        std::string_view name, words;
        std::optional<desk::Register> shown;
    };
    const std::array pages{Page{"device", "This device", std::nullopt}, Page{"instruments", "Instruments", desk::Register::Instruments},
                           Page{"people", "People", desk::Register::People}, Page{"checklists", "Checklists", desk::Register::Checklists}};
    const std::vector<Rect> cells = columns(at, static_cast<int>(pages.size()) + 1, touch.gap());
    for (std::size_t i = 0; i < pages.size(); ++i) {
        if (!key(touch, pages[i].name, cells[i],
                 {.words = pages[i].words, .state = !access.shown && draft.shown == pages[i].shown ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            continue;
        draft = {};
        access = {};
        draft.shown = pages[i].shown;
        if (draft.shown) requests.emplace_back(AskRegister{*draft.shown});
    }
    if (key(touch, "access", cells[pages.size()],
            {.words = "PINs", .state = access.shown ? KeyState::Chosen : KeyState::Ready, .face = Face::Small})) {
        draft = {};
        access = {};
        access.shown = true;
    }
}

}  // namespace

void settings_screen(Touch& touch, const Rect& at, const World& world, RegisterDraft& draft, AccessDraft& access,
                     Requests& requests) {
    const Scope scope{touch, "settings"};
    Rect rest = at;
    // Above the letters on the glass there is room for the field, and for nothing else.
    const bool writes = access.shown && access.step == AccessStep::Name && at.h < touch.mm(60.0F);
    if (!writes) page_keys(touch, cut_top(rest, touch.key_side(), touch.gap()), draft, access, requests);
    if (access.shown) return access_screen(touch, rest, world, access, requests);
    if (draft.shown) return register_screen(touch, rest, world, draft, requests);
    const bool side_by_side = at.w >= touch.mm(240.0F);
    Rect second = side_by_side ? cut_right(rest, rest.w * 0.5F, touch.mm(5.0F))
                               : cut_bottom(rest, rest.h * 0.42F, touch.mm(4.0F));
    {
        ScrollArea area{touch, "left", rest};
        area.heading("Look");
        looks(touch, area.take(touch.strong_side(), touch.gap()), requests);
        area.heading("Size of words");
        text_sizes(touch, area.take(touch.key_side(), touch.gap()), requests);
        area.heading("Told by ear as well");
        sounds(touch, area.take(touch.key_side(), touch.gap()), world.sound, requests);
        area.heading("Where a picture was taken");
        picture_places(touch, area.take(touch.key_side(), touch.gap()), world.picture_place, requests);
        area.heading("Ruler: hold a tape to it");
        const int length = ruler_length_mm(touch, area.width());
        area.words(fmt::format("The line should be {} mm long. Key sizes follow it.", length), Face::Small, touch.theme.quiet);
        ruler(touch, area.take(touch.key_side(), touch.gap()), length, requests);
        if (touch.metrics.shrank())
            area.words(fmt::format("This window is smaller than {:.0f} by {:.0f} mm, so everything in it shrank: its keys are {:.1f} mm, where gloves "
                                   "need {:.0f}. Make it larger.",
                                   least_short_mm, least_long_mm, on_glass_mm(touch.metrics, key_mm), key_mm));
        company(touch, area, world.settings);
    }
    ScrollArea area{touch, "right", second};
    keyboard_help(touch, area);
    instruments(touch, area, world);
}

}  // namespace wm::screens
