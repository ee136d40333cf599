#include "store/restore.hpp"

#include <doctest/doctest.h>

#include "record/state.hpp"
#include "store/testing.hpp"

using namespace wm::store;
using namespace wm::store::testing;
namespace fs = std::filesystem;

namespace {

/// A folder with a customer's words, a photo and a backup of all that.
struct Worked {
    Folder folder, stick;
    std::string customer, photo, device;

    explicit Worked(const std::string& passphrase = "") {
        Journal journal = open("a");
        customer = journal.new_customer().value();
        wm::record::ReadingTaken taken = reading("a", "1");
        taken.photos = {journal.keep(customer, "a roof", "image/jpeg", "").value()};
        photo = taken.photos.front().id;
        REQUIRE(journal.append(intent(customer, {{"J-1", opened(customer)}, {"J-1", taken}, {"J-1", note("Ansa Velmorrin")}})));
        device = journal.device();
        back_up(journal, "2027-03-01", passphrase);
    }
    [[nodiscard]] Journal open(const std::string& start, const std::string& sealing_key = "") const {
        return Journal::open_to_write(how(start, sealing_key)).value();
    }
    [[nodiscard]] Opening how(const std::string& start, const std::string& sealing_key = "") const {
        Opening made = opening(folder, start);
        made.backups = stick;
        made.company = "Tarnhollow Sunworks";
        made.sealing_key = sealing_key;
        return made;
    }
    static void back_up(const Journal& journal, const std::string& day, const std::string& passphrase = "") {
        REQUIRE(make_backup(journal, {day, day + "T08:00:00+05:00", passphrase}, counted_bytes(day)));
    }
    [[nodiscard]] RestoreRequest request(OwnEntries own = OwnEntries::Refuse) const {
        return {.backups = stick, .name = "", .folder = folder, .passphrase = "", .own = own, .aside = "2027-03-03", .vfs = ""};
    }
    void lose() const {
        for (const auto& each : fs::directory_iterator{folder.path()}) fs::remove_all(each.path());
    }
    /// Another figure in the first reading of that copy.
    void alter_backup(const std::string& day) const {
        const fs::path file = stick.path() / (day + ".journal");
        std::string bytes = bytes_of(file);
        const auto at = bytes.find("\"text\":\"1\"");
        REQUIRE(at != std::string::npos);
        bytes[at + 8] = '7';
        set_bytes(file, bytes);
    }
    /// Whether the customer's words and photo can be read again.
    [[nodiscard]] bool is_whole(Journal& journal) const {
        const auto entries = journal.read_job("J-1").value().entries;
        const auto* words = std::get_if<wm::record::NoteMade>(&entries.back().entry.body);
        return journal.verify_journal().value().is_genuine() && words != nullptr && words->text.text == "Ansa Velmorrin" &&
               journal.attachment(photo) == "a roof";
    }
};

std::string predecessor_of(Journal& journal) {
    const auto chain = journal.read_chain(journal.device(), 1).value();
    for (const auto& written : chain.entries)
        if (const auto* started = std::get_if<wm::record::DeviceStarted>(&written.entry.body)) return started->predecessor;
    return "no start";
}

}  // namespace

TEST_CASE("a folder that is gone comes back whole, and goes on as a new device") {
    const Worked worked;
    worked.lose();
    const auto done = restore(worked.request());
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(done->line.name == "2027-03-01");
    CHECK(done->set_aside.empty());
    CHECK_FALSE(done->has_signing_keys);
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
    CHECK(journal.device() != worked.device);
    CHECK(predecessor_of(journal) == worked.device);
    CHECK_FALSE(fs::exists(worked.folder.path() / "restore.json"));
    REQUIRE(journal.append(intent(worked.customer, {{"J-1", reading("a", "2")}})));
    CHECK(journal.verify_journal().value().is_genuine());
    // The next backup goes on in the same folder.
    Worked::back_up(journal, "2027-03-04");
}

TEST_CASE("lists that the company published come back, and those that are newer here stay") {
    const Worked worked;
    const auto put = [](const fs::path& file, const char* text) {
        fs::create_directories(file.parent_path());
        std::ofstream{file} << text;
    };
    const auto text_of = [](const fs::path& file) {
        std::ifstream in{file};
        return std::string{std::istreambuf_iterator<char>{in}, {}};
    };
    put(worked.folder.path() / "checklists/commissioning.toml", "version = 6");
    put(worked.folder.path() / "checklists/earlier/commissioning-v5.toml", "version = 5");
    {
        Journal journal = worked.open("b");
        Worked::back_up(journal, "2027-03-02");
        put(worked.folder.path() / "checklists/commissioning.toml", "version = 7");
        Worked::back_up(journal, "2027-03-03");
    }
    CHECK(text_of(worked.stick.path() / "checklists/commissioning.toml") == "version = 7");
    worked.lose();
    put(worked.folder.path() / "checklists/commissioning.toml", "version = 8");
    REQUIRE(restore(worked.request()));
    CHECK(text_of(worked.folder.path() / "checklists/commissioning.toml") == "version = 8");
    CHECK(text_of(worked.folder.path() / "checklists/earlier/commissioning-v5.toml") == "version = 5");
}

TEST_CASE("with the passphrase the seal of the company comes back too, without it the words do not") {
    const Worked worked{"six lanterns"};
    const auto fingerprint = wm::digest::root_fingerprint(*worked.open("x").keys().company());
    worked.lose();
    auto wanted = worked.request();
    const auto without = restore(wanted);
    REQUIRE_FALSE(without);
    CHECK(without.error().what == "The keys of this backup are locked under a passphrase.");
    wanted.passphrase = "seven lanterns";
    CHECK_FALSE(restore(wanted));
    wanted.passphrase = "six lanterns";
    const auto done = restore(wanted);
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(done->has_signing_keys);
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
    CHECK(wm::digest::root_fingerprint(*journal.keys().company()) == fingerprint);
    CHECK(predecessor_of(journal) == worked.device);
    CHECK(journal.device() != worked.device);
}

TEST_CASE("a folder under PINs comes back under the same PINs") {
    const Worked worked;
    {
        Journal journal = worked.open("x");
        REQUIRE(journal.put_person({"Ilka Marrowby", Role::Owner}, "482913", {1, 8}));
        Worked::back_up(journal, "2027-03-02");
    }
    worked.lose();
    const auto done = restore(worked.request());
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(done->is_sealed);
    CHECK_FALSE(Journal::open_to_write(worked.how("new")));
    const auto in = People::read(worked.folder).value().unlocked("", "482913", some_time);
    REQUIRE(in);
    Journal journal = worked.open("new", in->sealing_key);
    CHECK(worked.is_whole(journal));
    CHECK(predecessor_of(journal) == worked.device);
}

TEST_CASE("entries that the backup lacks are not overwritten, and when moved aside they are all there") {
    const Worked worked;
    {
        Journal journal = worked.open("x");
        REQUIRE(journal.append(intent(worked.customer, {{"J-1", reading("a", "2")}, {"J-1", reading("a", "3")}})));
    }
    const std::string before = bytes_of(worked.folder.path() / "journal.db");
    const auto refused = restore(worked.request());
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == wm::ProblemKind::Refused);
    CHECK(refused.error().what == "The journal here holds 2 entries that the backup of 2027-03-01 does not.");
    CHECK(bytes_of(worked.folder.path() / "journal.db") == before);
    const auto done = restore(worked.request(OwnEntries::MoveAside));
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(done->only_here == 2);
    CHECK(done->set_aside == worked.folder.path() / "set-aside/2027-03-03");
    CHECK(done->has_signing_keys);
    Opening former{.folder = worked.folder, .random = {}, .wall_ms = 0, .company = "", .vfs = ""};
    former.file = done->set_aside / "journal.db";
    CHECK(Journal::open_copy(former, Keys::none()).value().verify_journal().value().chains.entries == 6);
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
    CHECK(journal.device() != worked.device);
    CHECK(predecessor_of(journal) == worked.device);
}

TEST_CASE("a journal that cannot be read is moved aside on demand only, and no byte of it is lost") {
    const Worked worked;
    std::string broken = bytes_of(worked.folder.path() / "journal.db");
    std::fill(broken.begin(), broken.begin() + 4096, '\x55');
    set_bytes(worked.folder.path() / "journal.db", broken);
    const auto refused = restore(worked.request());
    REQUIRE_FALSE(refused);
    CHECK(refused.error().kind == wm::ProblemKind::Refused);
    const auto done = restore(worked.request(OwnEntries::MoveAside));
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(bytes_of(done->set_aside / "journal.db") == broken);
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
}

TEST_CASE("a customer who was erased after the backup is erased again, on the old device and on a new one") {
    for (const bool is_lost : {false, true}) {
        CAPTURE(is_lost);
        const Worked worked;
        REQUIRE(worked.open("x").erase_customer(worked.customer, some_time));
        if (is_lost) worked.lose();
        REQUIRE(restore(worked.request(OwnEntries::MoveAside)));
        Journal journal = worked.open("new");
        CHECK_FALSE(worked.is_whole(journal));
        CHECK_FALSE(journal.keys().customer(worked.customer));
        CHECK_FALSE(journal.attachment(worked.photo));
        CHECK(journal.erased_customers().value() == std::vector{worked.customer});
        CHECK(journal.verify_journal().value().reasons == std::vector<std::string>{});
        CHECK(wm::record::folded("J-1", journal.read_job("J-1").value().entries).checks.at("a").readings.size() == 1);
    }
}

TEST_CASE("a restore that was cut short opens for nobody and can be done again") {
    const Worked worked;
    // As if the power went after the former journal was moved.
    fs::create_directories(worked.folder.path() / "set-aside/earlier");
    fs::rename(worked.folder.path() / "journal.db", worked.folder.path() / "set-aside/earlier/journal.db");
    set_bytes(worked.folder.path() / "restore.json", R"({"aside":"earlier","erased":[],"predecessor":")" + worked.device + R"(","step":"begun"})");
    for (const bool writes : {true, false}) {
        const auto opened = writes ? Journal::open_to_write(worked.how("x")) : Journal::open_to_read(worked.how("x"));
        REQUIRE_FALSE(opened);
        CHECK(opened.error().what == "A restore of this folder was cut short.");
    }
    const auto done = restore(worked.request());
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(fs::exists(worked.folder.path() / "set-aside/earlier/journal.db"));
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
}

TEST_CASE("the keys of a tablet that was only looked at make way for those of the backup") {
    const Worked worked;
    worked.lose();
    { const Journal looked_at = worked.open("another tablet"); }
    const auto done = restore(worked.request());
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(fs::exists(done->set_aside / "keys/device.key"));
    Journal journal = worked.open("new");
    CHECK(worked.is_whole(journal));
}

TEST_CASE("a backup that was changed is not restored") {
    const Worked worked;
    worked.lose();
    worked.alter_backup("2027-03-01");
    const auto done = restore(worked.request());
    REQUIRE_FALSE(done);
    CHECK(done.error().what.starts_with("This backup does not verify: "));
    CHECK_FALSE(fs::exists(worked.folder.path() / "journal.db"));
}

TEST_CASE("a backup that went bad is passed over for the one before, and named") {
    const Worked worked;
    {
        const Journal journal = worked.open("b");
        worked.back_up(journal, "2027-03-02");
    }
    worked.lose();
    worked.alter_backup("2027-03-02");
    const auto done = restore(worked.request());
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
    CHECK(done->line.name == "2027-03-01");
    CHECK(done->passed_over == std::vector<std::string>{"2027-03-02"});
    // Whoever names it gets that one or a reason.
    auto named = worked.request();
    named.name = "2027-03-02";
    named.own = OwnEntries::MoveAside;
    CHECK(restore(named).has_value());
}
