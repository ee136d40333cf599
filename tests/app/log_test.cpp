#include "app/log.hpp"

#include <algorithm>

#include "app/manual.hpp"
#include "app/testing.hpp"

namespace wm::app {

namespace fs = std::filesystem;

TEST_CASE("a line of the log holds the form, the code and the time, and nothing that a person typed") {
    const Output refused{"", "", 1};
    CHECK(log_line({"job", "show", "J-1"}, refused, "2026-11-27T09:10:00+05:00", 12) ==
          "2026-11-27T09:10:00+05:00 " + std::string{program_version()} + " job show exit 1 12 ms\n");
    for (const auto& words : {std::vector<std::string>{"sign", "J-1", "--as", "customer", "--name", "Ansa Velmorrin"},
                              {"Ansa", "Velmorrin"},
                              {"job", "Velmorrin"},
                              {"enter", "J-1", "goods-scan", "Velmorrin"},
                              {"--Velmorrin"},
                              {"--person=Velmorrin", "job", "list"}}) {
        const auto line = log_line(words, refused, "t", 1);
        CAPTURE(line);
        CHECK(line.find("Velmorrin") == std::string::npos);
        CHECK(line.find("J-1") == std::string::npos);
        CHECK(std::count(line.begin(), line.end(), '\n') == 1);
    }
}

TEST_CASE("the log is rotated, keeps at most three files, and loses no line in between") {
    testing::Shell shell;
    const auto folder = shell.folder() / "log";
    const std::string filler(1000, 'x');
    for (int i = 0; i < 900; ++i) keep_line(folder, std::to_string(i) + " " + filler + "\n");
    std::uintmax_t bytes = 0;
    int files = 0;
    for (const auto& file : fs::directory_iterator{folder}) {
        CHECK(file.file_size() <= 256 * 1024);
        CHECK((file.status().permissions() & (fs::perms::group_all | fs::perms::others_all)) == fs::perms::none);
        bytes += file.file_size();
        ++files;
    }
    CHECK(files == 3);
    CHECK(bytes > 2 * 255 * 1024);
    const auto end = read_log_end(folder, 300);
    CHECK(std::count(end.begin(), end.end(), '\n') == 300);
    CHECK(end.starts_with("600 "));
    CHECK(end.find("\n899 ") != std::string::npos);
    CHECK(read_log_end(folder, 1).starts_with("899 "));
    CHECK(read_log_end(shell.folder() / "nothing", 5).empty());
}

TEST_CASE("a log that cannot be written stops nobody") {
    testing::Shell shell;
    shell.write("log", "a file where the folder would be");
    keep_line(shell.folder() / "log", "line\n");
    CHECK(testing::Shell::bytes_of(shell.folder() / "log") == "a file where the folder would be");
}

}  // namespace wm::app
