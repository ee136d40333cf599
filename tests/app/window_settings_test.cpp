#include "app/window_settings.hpp"

#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;

TEST_CASE("what the window keeps comes back, and other settings stay") {
    Shell shell;
    shell.write("settings.toml", "[mail]\nserver = \"smtps://mail.example.org\"\n");
    keep_look(shell.folder(), screens::Look::Sun);
    keep_text_size(shell.folder(), 150);
    CHECK(read_window_settings(shell.folder()).picture_place == screens::PicturePlace::LeftOut);
    keep_picture_place(shell.folder(), screens::PicturePlace::Kept);
    keep_scale(shell.folder(), 5.5F);
    const auto settings = read_window_settings(shell.folder());
    CHECK(settings.look == screens::Look::Sun);
    CHECK(settings.text_percent == 150);
    CHECK(settings.picture_place == screens::PicturePlace::Kept);
    REQUIRE(settings.px_per_mm);
    CHECK(*settings.px_per_mm == doctest::Approx(5.5));
    CHECK(mail_server_of(shell.folder()) == "smtps://mail.example.org");
}

TEST_CASE("a bad setting never keeps the window shut, and the settings of a person are left alone") {
    Shell shell;
    CHECK(read_window_settings(shell.folder()).text_percent == 100);
    for (const char* text : {"[window]\nlook = \"pink\"\ntext_percent = 5000\npx_per_mm = -1\n", "window = 3\n",
                             "[window]\nlook = 7\ntext_percent = \"big\"\n"}) {
        shell.write("window.toml", text);
        const auto settings = read_window_settings(shell.folder());
        CHECK(settings.look == screens::Look::Day);
        CHECK(settings.text_percent == 100);
        CHECK_FALSE(settings.px_per_mm);
    }
    // What a person wrote is never written over, not even by a look that is kept.
    const std::string broken = "[window\nlook = ";
    shell.write("settings.toml", broken);
    shell.write("window.toml", broken);
    keep_look(shell.folder(), screens::Look::Night);
    CHECK(Shell::bytes_of(shell.folder() / "settings.toml") == broken);
    CHECK(read_window_settings(shell.folder()).look == screens::Look::Night);
}

TEST_CASE("the folder of pictures is kept whatever its name, and no name brings another setting with it") {
    Shell shell;
    keep_lock_minutes(shell.folder(), 3);
    for (const char* name : {"/media/orla/CARD/DCIM", "/media/o\"rla\\/\nlock_minutes = 0\n", "/media/Dächer/☀"}) {
        CAPTURE(name);
        keep_photo_folder(shell.folder(), name);
        keep_look(shell.folder(), screens::Look::Night);
        CHECK(read_window_settings(shell.folder()).photos == name);
        CHECK(read_window_settings(shell.folder()).lock_minutes == 3);
    }
    // TOML is UTF-8 (toml.io, version 1.0.0): the file could not be read with such a name in it.
    keep_photo_folder(shell.folder(), "/media/orla/D\xE4" "cher");
    CHECK(read_window_settings(shell.folder()).photos.empty());
    CHECK(read_window_settings(shell.folder()).lock_minutes == 3);
}

TEST_CASE("without a mail server each try says what to do") {
    Shell shell;
    const auto attempt = sender_of(shell.folder())("a@example.org", {"b@example.org"}, "x");
    CHECK(attempt.state == post::PostState::CannotSend);
    CHECK(attempt.answer.find("settings.toml") != std::string::npos);
}

TEST_CASE("looks have the words of the command line") {
    CHECK(look_named("day") == screens::Look::Day);
    CHECK(look_named("night") == screens::Look::Night);
    CHECK(look_named("sun") == screens::Look::Sun);
    CHECK_FALSE(look_named("dusk"));
}

}  // namespace wm::app
