#include "app/open_copies.hpp"

#include "app/testing.hpp"

namespace wm::app {

using testing::Shell;
namespace fs = std::filesystem;

namespace {

/// Files below the folder, of a name or with bytes that hold the words.
std::vector<std::string> holding(const fs::path& folder, const std::string& words) {
    std::vector<std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator{folder})
        if (entry.is_regular_file() && Shell::bytes_of(entry.path()).find(words) != std::string::npos) found.push_back(entry.path().string());
    return found;
}

void save(const fs::path& file, const std::string& words) {
    fs::create_directories(file.parent_path());
    std::ofstream{file, std::ios::binary} << words;
}

}  // namespace

TEST_CASE("an erasure that comes by bundle takes mails and reports that lie open with it, of that customer alone") {
    Shell home;
    const auto job = home.open_job();
    const auto neighbour = home.open_job();
    const auto before = (home.folder() / "before.bundle").string();
    REQUIRE(home.run({"pack", before}).code == 0);

    Shell office;
    REQUIRE(office.run({"unpack", before}).code == 0);
    const std::string hers = "To: Zephyrine Quolltasker";
    const std::string theirs = "To: Ansa Velmorrin";
    for (const char* ending : {".eml", "-1.eml", "-2.eml"}) save(office.data() / "outbox" / (job + ending), hers);
    save(office.data() / "reports" / (job + ".pdf"), hers);
    save(office.data() / "outbox" / (neighbour + ".eml"), theirs);
    save(office.data() / "outbox" / (job + "0.eml"), theirs);  // another number that begins alike
    save(office.data() / "outbox" / "notes.txt", theirs);
    save(office.data() / "half-typed.txt", job + "\tladder-set\t\t" + hers);
    REQUIRE(holding(office.data(), hers).size() == 5);
    const auto others = holding(office.data(), theirs).size();

    REQUIRE(home.run({"erase-customer", job}).code == 0);
    const auto after = (home.folder() / "after.bundle").string();
    REQUIRE(home.run({"pack", after}).code == 0);
    REQUIRE(office.run({"unpack", before}).code == 0);  // nothing new: nothing is lost
    CHECK(holding(office.data(), hers).size() == 5);
    REQUIRE(office.run({"unpack", after}).code == 0);
    CHECK(holding(office.data(), hers).empty());
    CHECK(holding(office.data(), theirs).size() == others);
    // What was saved again from an old copy goes with the next bundle.
    save(office.data() / "outbox" / (job + ".eml"), hers);
    REQUIRE(office.run({"unpack", after}).code == 0);
    CHECK(holding(office.data(), hers).empty());
    // What is half typed in another job stays.
    save(office.data() / "half-typed.txt", neighbour + "\tladder-set\t\t" + theirs);
    REQUIRE(office.run({"unpack", after}).code == 0);
    CHECK(holding(office.data(), theirs).size() == others + 1);
}

}  // namespace wm::app
