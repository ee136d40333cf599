#include "desk/retention.hpp"

#include <algorithm>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Clock;
using testing::Folder;
using testing::file_bytes;
using testing::house_facts;
using testing::setup_in;
using testing::tools;

namespace {

RetentionRules some_rules(EarlyErasure early = EarlyErasure::Refuse) {
    return {"XX", "Ostervaun",
            {{"report", 2, KeptFrom::Handover, EarlyErasure::Warn, "It shows what was fitted.", "common practice, no source"},
             {"mails", 1, KeptFrom::EndOfYear, early, "Letters are kept.", "from memory"}}};
}

std::string country(const std::string& rule) {
    return "[[country]]\ncode = \"XX\"\nname = \"Ostervaun\"\n[[country.rule]]\n" + rule;
}

const std::string sound_rule =
    "record = \"mails\"\nyears = 6\nfrom = \"end of year\"\nearly = \"refuse\"\nwhy = \"Letters.\"\nsource = \"from memory\"\n";

AbandonJob left(const std::string& job) { return {job, "everything is shut", "storm"}; }

}  // namespace

TEST_CASE("the shipped periods are read, each with a reason and a source, and one country for none chosen") {
    const auto all = read_retention(file_bytes("assets/retention.toml"), "retention.toml");
    REQUIRE_MESSAGE(all, (all ? "" : all.error().what));
    CHECK(all->size() >= 4);
    for (const auto& each : *all) {
        CAPTURE(each.country);
        CHECK_FALSE(each.rules.empty());
        for (const auto& rule : each.rules) {
            CHECK(rule.why.ends_with("."));
            // When the law was read, or that nobody of us read it: that must stand beside each of them.
            const bool is_marked = rule.source.find(" 2026-") != std::string::npos || rule.source.ends_with("from memory") ||
                                   rule.source == "common practice, no source";
            CHECK(is_marked);
        }
    }
    CHECK(rules_of(*all, "none").has_value());
    CHECK(rules_of(*all, "de")->country == "DE");
    // Without a country nothing is refused: nobody said which law.
    const auto none = *rules_of(*all, "none");
    for (const auto& rule : none.rules) CHECK(rule.early == EarlyErasure::Warn);
    const auto nowhere = rules_of(*all, "ZZ");
    REQUIRE_FALSE(nowhere);
    CHECK(nowhere.error().what == "There are no periods for the country \"ZZ\".");
}

TEST_CASE("the shipped periods are those of the law they name") {
    const auto all = *read_retention(file_bytes("assets/retention.toml"), "retention.toml");
    struct Row {
        const char *country, *record, *law;
        int years;
        KeptFrom from;
    };
    // Sources: BGB 634a (five years for a building, from acceptance) and Code civil 1792-4-1 (ten years from acceptance);
    // HGB 257 (4) and (5) (six years for letters, from the end of the year of the letter); Code de commerce L123-22 (ten
    // years for vouchers); Limitation Act 1980 section 5 (six years from the breach); Finance Act 1998 schedule 18
    // paragraph 21 (sixth anniversary of the end of the period). Read 2026-11-27.
    for (const Row& row : {Row{"DE", "report", "BGB section 634a", 5, KeptFrom::Handover},
                           Row{"DE", "mails", "HGB section 257", 6, KeptFrom::EndOfYear},
                           Row{"FR", "report", "Code civil, articles 1792 and 1792-4-1", 10, KeptFrom::Handover},
                           Row{"FR", "mails", "Code de commerce, article L123-22", 10, KeptFrom::EndOfYear},
                           Row{"GB", "report", "Limitation Act 1980, section 5", 6, KeptFrom::Handover},
                           Row{"GB", "mails", "Finance Act 1998, schedule 18, paragraph 21", 6, KeptFrom::EndOfYear}}) {
        CAPTURE(row.country);
        CAPTURE(row.record);
        const auto rules = *rules_of(all, row.country);
        const auto found = std::find_if(rules.rules.begin(), rules.rules.end(),
                                        [&](const RetentionRule& rule) { return rule.record.starts_with(row.record); });
        REQUIRE(found != rules.rules.end());
        CHECK(found->years == row.years);
        CHECK(found->from == row.from);
        CHECK(found->source.starts_with(row.law));
    }
}

TEST_CASE("a period that is written wrongly is refused with its line") {
    CHECK(read_retention(country(sound_rule), "r.toml"));
    struct Row {
        std::string wrong, right, what;
    };
    for (const Row& row : {Row{"years = 600", "years = 6", "How many years is missing, or no whole number from 0 to 100."},
                           Row{"years = \"six\"", "years = 6", "How many years is missing, or no whole number from 0 to 100."},
                           Row{"from = \"birth\"", "from = \"end of year\"", "No period counts from \"birth\"."},
                           Row{"early = \"maybe\"", "early = \"refuse\"", "\"maybe\" is nothing to do about an early erasure."},
                           Row{"", "source = \"from memory\"", "The text \"source\" is missing."}}) {
        auto text = sound_rule;
        text.replace(text.find(row.right), row.right.size(), row.wrong);
        const auto read = read_retention(country(text), "r.toml");
        REQUIRE_FALSE(read);
        CHECK(read.error().what == row.what);
        CHECK(read.error().where.starts_with("r.toml:"));
    }
    CHECK_FALSE(read_retention("a = 1\n", "r.toml"));
}

TEST_CASE("a period ends on the same day, at the end of the year, and on the 28th where there is no 29th") {
    CHECK(last_day_kept("2026-11-25", KeptFrom::Handover, 10) == "2036-11-25");
    CHECK(last_day_kept("2026-11-25", KeptFrom::EndOfYear, 6) == "2032-12-31");
    CHECK(last_day_kept("2028-02-29", KeptFrom::Handover, 1) == "2029-02-28");
    CHECK(last_day_kept("2028-02-29", KeptFrom::Handover, 4) == "2032-02-29");
    CHECK(last_day_kept("2026-01-01", KeptFrom::Handover, 0) == "2026-01-01");
}

TEST_CASE("records are due on the day after the longest period, and never while a job of the house is open") {
    const Folder folder;
    const Clock clock;
    auto desk = *Desk::open(setup_in(folder.path() / "data", clock, "a"));
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    const auto today = [&] { return day_of(desk.setup().now()); };
    CHECK(retention_of(desk, some_rules(), *job)->open);
    REQUIRE(desk.carry_out(left(*job)));
    auto view = *retention_of(desk, some_rules(), *job);
    CHECK_FALSE(view.open);
    CHECK_FALSE(view.due);
    CHECK(view.until == "2028-11-25");  // two years from 2026-11-25; the mails end on 2027-12-31
    REQUIRE(view.kept.size() == 2);
    CHECK(must_be_kept(view, today()));
    REQUIRE(words_against(view, today()).size() == 2);
    CHECK(words_against(view, today()).front() == "mails: kept until 2027-12-31 (job " + *job + "). Letters are kept. Source: from memory.");
    clock.pass_days(401);  // 2027-12-31
    CHECK(must_be_kept(*retention_of(desk, some_rules(), *job), today()));
    clock.pass_days(1);
    view = *retention_of(desk, some_rules(), *job);
    CHECK_FALSE(must_be_kept(view, today()));
    CHECK(words_against(view, today()).size() == 1);
    clock.pass_days(329);  // 2028-11-25
    CHECK_FALSE(retention_of(desk, some_rules(), *job)->due);
    clock.pass_days(1);
    CHECK(retention_of(desk, some_rules(), *job)->due);
    // A later job at the same house keeps them again.
    const auto later = desk.carry_out(OpenJob{"service", house_facts(tools()), "facts.toml", *job, false});
    REQUIRE_MESSAGE(later, (later ? "" : later.error().what));
    CHECK_FALSE(retention_of(desk, some_rules(), *job)->due);
    CHECK(retention_of(desk, some_rules(), *job)->jobs.size() == 2);
    REQUIRE(desk.carry_out(left(*later)));
    CHECK(retention_of(desk, some_rules(), *job)->until == "2030-11-26");
}

TEST_CASE("who is erased is listed no more, and the reason of an early erasure outlives it") {
    const Folder folder;
    const Clock clock;
    auto desk = *Desk::open(setup_in(folder.path() / "data", clock, "a"));
    const auto job = desk.carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(job);
    REQUIRE(note_early_erasure(desk, *job, "asked for by letter"));
    REQUIRE(desk.erase_customer(*job));
    CHECK(retention(desk, some_rules())->empty());
    const auto gone = retention_of(desk, some_rules(), *job);
    REQUIRE_FALSE(gone);
    CHECK(gone.error().kind == ProblemKind::Refused);
    const auto hand = *desk.in_hand(*job);
    const auto& notes = hand.state().notes;
    REQUIRE(notes.size() == 1);
    CHECK(notes.front().second.text.text == "Erased before the end of its period: asked for by letter");
}

}  // namespace wm::desk
