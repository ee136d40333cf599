#include "app/pictures.hpp"

#include <chrono>

#include "app/desk_worker.hpp"
#include "app/window_settings.hpp"
#include "app/worker_testing.hpp"

namespace wm::app {

namespace fs = std::filesystem;
using testing::desk_in;
using testing::Listener;
using testing::Shell;

namespace {

/// A file whose last change was that many hours ago.
std::string put(const fs::path& file, int hours_ago) {
    fs::create_directories(file.parent_path());
    std::ofstream{file} << "x";
    fs::last_write_time(file, fs::file_time_type::clock::now() - std::chrono::hours{hours_ago});
    return file.string();
}

}  // namespace

// Names as CIPA DC-009 (DCF) has them: DCIM on top, below it three digits from 100 on and five signs, four and four in a file.
TEST_CASE("pictures of a card come newest first whichever folder they lie in, and nothing else comes") {
    Shell shell;
    const auto card = shell.folder() / "CARD";
    const auto first = put(card / "DCIM/100ROOFS/ROOF0001.JPG", 5);
    const auto third = put(card / "DCIM/100ROOFS/ROOF0003.JPG", 3);
    const auto second = put(card / "DCIM/101ROOFS/ROOF0002.jpeg", 4);
    put(card / "DCIM/100ROOFS/ROOF0004.MOV", 1);
    put(card / "DCIM/100ROOFS/._ROOF0001.JPG", 1);
    put(card / "DCIM/.thrown/ROOF0005.JPG", 1);
    put(shell.folder() / "elsewhere/ROOF0006.JPG", 1);
    fs::create_directory_symlink(shell.folder() / "elsewhere", card / "DCIM/102ROOFS");
    fs::create_directory_symlink(card / "DCIM", card / "DCIM/103ROOFS");
    fs::create_directories(card / "DCIM/104ROOFS.JPG");
    const std::vector<std::string> all{third, second, first};
    CHECK(pictures_in(card / "DCIM").files == all);
    CHECK(pictures_in(card).files == all);
    CHECK_FALSE(pictures_in(card).more);
    // Who names a link means what it leads to.
    fs::create_directory_symlink(card, shell.folder() / "link");
    CHECK(pictures_in(shell.folder() / "link").files.size() == 3);
}

TEST_CASE("a folder without end is looked at in part, and that is told") {
    Shell shell;
    const auto folder = shell.folder() / "many";
    for (int i = 0; i < 201; ++i) put(folder / (std::to_string(i) + ".png"), 300 - i);
    const auto found = pictures_in(folder);
    REQUIRE(found.files.size() == 200);
    CHECK(found.files.front() == (folder / "200.png").string());
    CHECK(found.files.back() == (folder / "1.png").string());
    CHECK(found.more);
    fs::remove(folder / "0.png");
    CHECK_FALSE(pictures_in(folder).more);
    const auto part = pictures_in(folder, {.files = 200, .entries = 7, .depth = 3});
    CHECK(part.files.size() == 7);
    CHECK(part.more);
    CHECK_FALSE(pictures_in(folder, {.files = 200, .entries = 200, .depth = 3}).more);
    // The folder with the highest number first: there the latest are.
    const auto card = shell.folder() / "card";
    put(card / "100ROOFS/ROOF0001.JPG", 2);
    const auto latest = put(card / "999ROOFS/ROOF0002.JPG", 1);
    CHECK(pictures_in(card, {.files = 200, .entries = 3, .depth = 3}).files == std::vector<std::string>{latest});
}

TEST_CASE("folders are looked into three deep, and one that is not there is said to be none") {
    Shell shell;
    const auto deep = put(shell.folder() / "top/1/2/3/a.jpg", 1);
    put(shell.folder() / "top/1/2/3/4/b.jpg", 1);
    CHECK(pictures_in(shell.folder() / "top").files == std::vector<std::string>{deep});
    CHECK(pictures_in(shell.folder() / "top").is_there);
    CHECK_FALSE(pictures_in(shell.folder() / "nowhere").is_there);
}

TEST_CASE("cards and cameras are found where they are mounted, by their DCIM folder, and no link is followed") {
    Shell shell;
    const auto root = shell.folder() / "root";
    put(root / "media/orla/ROOFCAM/DCIM/100ROOFS/ROOF0001.JPG", 1);
    put(root / "media/orla/STICK/letters.txt", 1);
    fs::create_directories(root / "media/orla/EMPTY");
    fs::create_directories(root / "elsewhere/DCIM");
    fs::create_directory_symlink(root / "elsewhere", root / "media/orla/LINKED");
    fs::create_directories(root / "media/orla/FALSE");
    fs::create_directory_symlink(root / "elsewhere/DCIM", root / "media/orla/FALSE/DCIM");
    fs::create_directories(root / "mnt/card/DCIM");
    fs::create_directories(root / "mnt/deep/er/DCIM");
    const std::vector<MediaRoot> roots{{root / "media", 2}, {root / "run/media", 2}, {root / "mnt", 1}};
    CHECK(camera_folders(roots) == std::vector<fs::path>{root / "media/orla/ROOFCAM/DCIM", root / "mnt/card/DCIM"});
    for (int i = 0; i < 9; ++i) fs::create_directories(root / "mnt" / ("card" + std::to_string(i)) / "DCIM");
    CHECK(camera_folders(roots).size() == 8);
}

TEST_CASE("a card is chosen and kept, its being pulled is said, and what is there in its place is shown") {
    Shell shell;
    const auto job = shell.open_job();
    const auto root = shell.folder() / "media";
    const auto card = root / "orla/ROOFCAM/DCIM";
    const auto on_card = put(card / "100ROOFS/ROOF0001.JPG", 1);
    const auto own = put(shell.folder() / "photos/091.jpg", 1);
    Listener listener;
    screens::World shown;
    int pending = 4;
    {
        DeskWorker worker{desk_in(shell),
                          WorkerPlaces{.data = shell.data(), .photos = shell.folder() / "photos", .facts = shell.folder(), .media = {{root, 2}}},
                          [&] { listener.wake(); }};
        int calls = 0;
        const auto look = [&](int more) {
            calls += more;
            listener.wait_for(calls);
            for (auto& news : worker.news()) take_in(shown, news, pending);
        };
        look(1);
        CHECK(shown.photo_files == std::vector<std::string>{own});
        CHECK(shown.photos.is_own);
        REQUIRE(shown.photos.there.size() == 2);
        CHECK(shown.photos.there[0].path.empty());
        CHECK(shown.photos.there[1].path == card.string());
        CHECK(shown.photos.there[1].words == "ROOFCAM");

        worker.post(screens::ChoosePhotoFolder{card.string()});
        look(2);  // pictures, done
        CHECK(shown.photo_files == std::vector<std::string>{on_card});
        CHECK(shown.photos.folder == card.string());
        CHECK_FALSE(shown.photos.is_own);
        CHECK(shown.photos.there.size() == 2);
        CHECK(read_window_settings(shell.data()).photos == card.string());

        fs::rename(root / "orla", shell.folder() / "pulled");
        worker.post(screens::WithPhoto{desk::Intent{desk::TakeReading{job, "coll-tilt", "", "41°", "", {}, "", "", "", "", false}}, on_card});
        look(2);  // the problem with the pictures, done
        REQUIRE(shown.problem);
        CHECK(shown.problem->what == "The picture is not there any more, so nothing was saved.");
        CHECK(shown.refused_since(1));  // so that the draft comes back
        CHECK(shown.photos.gone == card.string());
        CHECK(shown.photos.is_own);
        CHECK(shown.photo_files == std::vector<std::string>{own});

        fs::rename(shell.folder() / "pulled", root / "orla");
        worker.post(screens::AskFiles{});
        look(2);  // lists with pictures, done
        CHECK(shown.photos.gone.empty());
        CHECK(shown.photo_files == std::vector<std::string>{on_card});

        worker.post(screens::ChoosePhotoFolder{});
        look(2);
        CHECK(shown.photo_files == std::vector<std::string>{own});
    }
    CHECK(read_window_settings(shell.data()).photos.empty());
    const auto view = shell.json({"job", "show", job});
    for (const auto& check : view["checks"])
        if (check["id"] == "coll-tilt") CHECK(check["readings"].empty());
}

TEST_CASE("a folder that is no card stands among those to choose from while it is chosen") {
    Shell shell;
    const auto own = shell.folder() / "photos";
    const auto chosen = shell.folder() / "from the roof";
    fs::create_directories(chosen);
    const auto offered = offered_pictures(own, chosen, {});
    REQUIRE(offered.folders.there.size() == 2);
    CHECK(offered.folders.there[1].words == "from the roof");
    CHECK(offered.folders.folder == chosen.string());
    // The data folder's own is none before the first picture: that is no card that was pulled.
    const auto without = offered_pictures(own, {}, {});
    CHECK(without.folders.gone.empty());
    CHECK(without.folders.folder == own.string());
    CHECK(without.folders.there.size() == 1);
}

}  // namespace wm::app
