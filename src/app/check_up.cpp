#include "app/check_up.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>

#include "app/commands.hpp"
#include "app/places.hpp"
#include "app/retention_rules.hpp"
#include "app/window_settings.hpp"
#include "desk/backup.hpp"
#include "desk/outbox.hpp"
#include "desk/registers.hpp"
#include "store/people.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

using Findings = std::vector<Finding>;

constexpr std::uintmax_t megabyte = 1'000'000;
/// A job with its photos takes some 10 MB, its report and its backup as much again.
constexpr std::uintmax_t too_little = 200 * megabyte, little = 1000 * megabyte;
constexpr int old_backup_days = 7, calibration_soon_days = 30;

void check_share(const World& world, Findings& findings) {
    const auto texts = library_texts(world);
    if (!texts)
        findings.push_back({"share folder", Fitness::Wrong, "The checklists cannot be read.", world.share.string(),
                            "Install the program again, or set WITNESSMARK_SHARE to its share folder."});
    else if (const auto rules = all_retention_rules(world); !rules)
        findings.push_back({"share folder", Fitness::Wrong, "The list of retention periods cannot be read.", world.share.string(),
                            "Install the program again, or set WITNESSMARK_SHARE to its share folder."});
    else
        findings.push_back({"share folder", Fitness::Fine, fmt::format("{} files of checklists and lists are there.", texts->size()),
                            world.share.string(), ""});
}

void check_fonts(const World& world, Findings& findings) {
    const auto folder = font_folder(world.share);
    std::string missing;
    for (const auto* name : {"DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf"}) {
        const auto bytes = read_file(folder / name);
        // Every TrueType file begins so (OpenType specification 1.9, table directory).
        if (!bytes || !bytes->starts_with(std::string_view{"\0\1\0\0", 4})) missing += fmt::format("{}{}", missing.empty() ? "" : ", ", name);
    }
    if (missing.empty()) findings.push_back({"fonts", Fitness::Fine, "All three typefaces are there.", folder.string(), ""});
    else
        findings.push_back({"fonts", Fitness::Wrong, fmt::format("Missing or broken: {}. No window opens and no report is made.", missing),
                            folder.string(), "Install the Debian package fonts-dejavu-core, or unpack the program again."});
}

/// The folder itself, or the one above it in which it would be made.
fs::path nearest(fs::path folder) {
    std::error_code problem;
    folder = fs::absolute(folder, problem);
    while (!fs::exists(folder, problem) && folder.has_parent_path() && folder.parent_path() != folder) folder = folder.parent_path();
    return folder;
}

void check_disk(const World& world, Findings& findings) {
    const auto folder = nearest(world.data);
    std::error_code problem;
    if (::access(folder.c_str(), W_OK | X_OK) != 0) {
        findings.push_back({"data folder", Fitness::Wrong, "Nothing can be written there.", folder.string(),
                            "Give yourself the right to write there, mount the disk for writing, or choose another folder with --data."});
    } else {
        const auto rights = fs::status(world.data, problem).permissions();
        const bool open = !problem && (rights & (fs::perms::group_all | fs::perms::others_all)) != fs::perms::none;
        if (open)
            findings.push_back({"data folder", Fitness::Advice, "Other users of this computer may look into the data folder.",
                                world.data.string(), "Take their rights away: chmod 700 and the folder."});
        else findings.push_back({"data folder", Fitness::Fine, "It can be written, and is yours alone.", world.data.string(), ""});
    }
    const auto space = fs::space(folder, problem);
    if (problem) return;
    const std::string words = fmt::format("{} MB are free.", space.available / megabyte);
    if (space.available < too_little)
        findings.push_back({"free space", Fitness::Wrong, words + " That is not enough for a job with photos.", folder.string(),
                            "Make room before the work begins, or take another disk with --data."});
    else if (space.available < little)
        findings.push_back({"free space", Fitness::Advice, words, folder.string(), "Make room soon: a job with photos and backup takes some 30 MB."});
    else findings.push_back({"free space", Fitness::Fine, words, folder.string(), ""});
}

void check_clock(const World& world, Findings& findings) {
    const auto now = world.now();
    std::error_code problem;
    const auto written = fs::last_write_time(world.data / "journal.db", problem);
    const auto journal_ms = problem ? std::int64_t{0}
                                    : std::chrono::duration_cast<std::chrono::milliseconds>(
                                          std::chrono::file_clock::to_sys(written).time_since_epoch())
                                          .count();
    constexpr std::int64_t released_ms = 1'793'491'200'000;  // 2026-11-01: no clock is right that is earlier
    const std::string shown = desk::text_of(now);
    if (now.wall_ms < released_ms)
        findings.push_back({"clock", Fitness::Wrong, fmt::format("It says {}, which is before this program was made.", shown), "this computer",
                            "Set date and time, then check them against a clock you trust. Timed tests and due days depend on it."});
    else if (world.since_boot && world.since_boot() && journal_ms > now.wall_ms + 10 * 60'000)
        findings.push_back({"clock", Fitness::Wrong, fmt::format("It says {}, earlier than the last entry was written.", shown), "this computer",
                            "Set date and time right. What was written stays, and the move will stand in the record."});
    else
        findings.push_back({"clock", Fitness::Fine, fmt::format("It says {}.", shown), "this computer",
                            "Compare it with a clock you trust before a timed test."});
}

void check_keys(const World& world, desk::Desk& desk, Findings& findings) {
    std::string open_files;
    std::error_code problem;
    for (const auto& file : fs::directory_iterator{world.data / "keys", problem}) {
        const auto rights = fs::status(file.path(), problem).permissions();
        if ((rights & (fs::perms::group_all | fs::perms::others_all)) != fs::perms::none)
            open_files += (open_files.empty() ? "" : ", ") + file.path().filename().string();
    }
    if (!open_files.empty())
        findings.push_back({"keys", Fitness::Wrong, "Others can read keys that sign for the company.", open_files,
                            "Take their rights away with chmod 600, and think whether somebody may have copied them."});
    const auto people = store::People::read(world.data);
    if (people && people->empty())
        findings.push_back({"keys", Fitness::Advice, "Nobody has a PIN, so whoever has this computer can sign for the company.",
                            (world.data / "keys").string(), "Give PINs: witnessmark access add NAME --new-pin-file F."});
    else if (open_files.empty()) findings.push_back({"keys", Fitness::Fine, "They are sealed by PINs.", (world.data / "keys").string(), ""});
    if (desk.setup().fingerprint_published.empty())
        findings.push_back({"keys", Fitness::Advice, "Reports cannot say where your fingerprint is published, so customers cannot tell whose seal it is.",
                            settings_file(world.data, "settings.toml").string(),
                            "Publish the fingerprint (page one of a report, or Settings), and name the place under [company] as "
                            "fingerprint_published."});
}

void check_backups(const World& world, desk::Desk& desk, Findings& findings) {
    const auto view = desk::backup_view(desk);
    if (!view) {
        findings.push_back({"backups", Fitness::Wrong, "They cannot be read.", view.error().where, "Name a folder that can be written under [backup] in settings.toml."});
        return;
    }
    const auto& lines = view->index.lines;
    const auto good = std::find_if(lines.rbegin(), lines.rend(), [](const auto& line) { return line.is_good(); });
    if (good == lines.rend()) {
        findings.push_back({"backups", Fitness::Advice, lines.empty() ? "There is none yet." : "None of them verifies.", view->folder,
                            "Make one: witnessmark backup."});
    } else {
        const int days = desk::days_between(good->made_at.substr(0, 10), desk::day_of(world.now())).value_or(0);
        findings.push_back({"backups", days > old_backup_days ? Fitness::Advice : Fitness::Fine,
                            fmt::format("The newest good one is {} {} old.", days, days == 1 ? "day" : "days"), view->folder,
                            days > old_backup_days ? "Make one: witnessmark backup." : ""});
    }
    if (view->is_beside_journal)
        findings.push_back({"backups", Fitness::Advice, "They lie on the disk of the journal and are lost with it.", view->folder,
                            "Name another disk under [backup] in settings.toml, as folder = \"…\"."});
    if (view->signing_keys == "not in it")
        findings.push_back({"backups", Fitness::Advice, "The keys that sign are not in them: a lost computer comes back with a new seal.",
                            view->folder, "Give a PIN, or name a password_file under [backup] in settings.toml."});
    if (view->not_exchanged.not_confirmed > 0)
        findings.push_back({"exchange", Fitness::Advice, fmt::format("Entries that are on no other device yet: {}.", view->not_exchanged.not_confirmed),
                            "this computer", "Pack a bundle and take it in elsewhere: witnessmark pack FILE."});
}

void check_mail(const World& world, desk::Desk& desk, Findings& findings) {
    const auto settings = settings_file(world.data, "settings.toml").string();
    if (const auto server = mail_server_of(world.data); server.empty())
        findings.push_back({"mail", Fitness::Advice, "No mail server is named; reports wait in the outbox.", settings,
                            "Name one under [mail] as server = \"smtps://…\", or save the mails: witnessmark post save DIR."});
    else if (!server.starts_with("smtp://") && !server.starts_with("smtps://"))
        findings.push_back({"mail", Fitness::Wrong, "The mail server is named in a way that cannot be used.", settings,
                            "Write it as smtps://host:port or smtp://host:port."});
    else findings.push_back({"mail", Fitness::Fine, "A mail server is named.", settings, "Try it: witnessmark post send."});
    const auto all = desk::messages(desk);
    if (!all) return;
    const auto count = [&](std::string_view state) {
        return std::count_if(all->begin(), all->end(), [&](const auto& message) { return message.state == state; });
    };
    if (const auto stopped = count("refused") + count("cannot send"); stopped > 0)
        findings.push_back({"mail", Fitness::Wrong, fmt::format("{} {} a person.", stopped, stopped == 1 ? "message needs" : "messages need"), "the outbox",
                            "Read why: witnessmark post list. Then mend the address or the server, or save the mail and send that."});
    if (const auto waiting = count("waiting"); waiting > 0)
        findings.push_back({"mail", Fitness::Advice, fmt::format("{} {} to be sent.", waiting, waiting == 1 ? "message waits" : "messages wait"), "the outbox", "Send them: witnessmark post send."});
}

void check_instruments(const World& world, desk::Desk& desk, Findings& findings) {
    const auto table = desk::register_table(desk, desk::Register::Instruments);
    if (!table) return;
    const auto column = [&](std::string_view name) {
        return static_cast<std::size_t>(std::find(table->columns.begin(), table->columns.end(), name) - table->columns.begin());
    };
    const auto name = column("instrument"), due = column("due");
    if (std::max(name, due) >= table->columns.size()) return;
    std::string over, soon;
    int overs = 0, soons = 0;
    for (const auto& row : table->rows) {
        const auto left = desk::days_between(desk::day_of(world.now()), row.cells[due]);
        if (!left || *left > calibration_soon_days) continue;
        auto& list = *left < 0 ? over : soon;
        list += (list.empty() ? "" : ", ") + row.cells[name];
        ++(*left < 0 ? overs : soons);
    }
    if (overs > 0)
        findings.push_back({"instruments", Fitness::Wrong, fmt::format("The calibration of {} has run out: what they read is no evidence.", overs),
                            over, "Leave them at home, and have them calibrated before they are read again."});
    if (soons > 0)
        findings.push_back({"instruments", Fitness::Advice, fmt::format("The calibration of {} runs out within {} days.", soons, calibration_soon_days),
                            soon, "Have them calibrated in time."});
    if (overs + soons == 0)
        findings.push_back({"instruments", Fitness::Fine, fmt::format("{} are known, and none is due soon.", table->rows.size()), "the register", ""});
}

}  // namespace

std::string_view in_words(Fitness fitness) {
    switch (fitness) {
        case Fitness::Fine: return "fine";
        case Fitness::Advice: return "advice";
        case Fitness::Wrong: return "wrong";
    }
    return "fine";
}

std::vector<Finding> check_up(const World& world) {
    Findings findings;
    check_share(world, findings);
    check_fonts(world, findings);
    check_disk(world, findings);
    check_clock(world, findings);
    if (!has_journal(world)) {
        findings.push_back({"journal", Fitness::Fine, "Nothing was recorded here yet.", world.data.string(), ""});
        return findings;
    }
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) {
        findings.push_back({"journal", Fitness::Wrong, "It cannot be opened.", desk.error().where + ": " + desk.error().what,
                            "See witnessmark attest --journal; if it is damaged, witnessmark restore brings a backup back and deletes nothing."});
        return findings;
    }
    findings.push_back({"journal", Fitness::Fine, "It opens. Whether nothing was changed in it is asked by attest --journal.", world.data.string(), ""});
    check_keys(world, *desk, findings);
    check_backups(world, *desk, findings);
    check_mail(world, *desk, findings);
    check_instruments(world, *desk, findings);
    return findings;
}

}  // namespace wm::app
