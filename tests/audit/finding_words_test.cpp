#include "audit/finding_words.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

TEST_CASE("chance is told as one in so many, with groups of three") {
    CHECK(chance_in_words(0.04) == "about 1 in 25");
    CHECK(chance_in_words(1.0 / 4021.0) == "about 1 in 4,021");
    CHECK(chance_in_words(1.5e-6) == "about 1 in 666,667");
    CHECK(chance_in_words(1e-9) == "less than 1 in 1,000,000");
}

TEST_CASE("each kind of question has a sentence with the figures of both sides and a next step") {
    const CheckCards cards = {{"outlet-temp", {"Water at the tap", 'H', false}}, {"temp-rise", {"Rise in the sun", 'P', false}}};
    Question question{.kind = QuestionKind::Household, .subject = "C2", .check = "outlet-temp",
                      .narrowed = "homes with vulnerable people", .elsewhere = {1, 30}, .strata = {}, .own = {5, 10},
                      .others = {1, 40}, .jobs = {}, .only_later = false};
    CHECK(sentence_of(question, cards, 0.001) ==
          "In homes with vulnerable people, crew C2 failed \"Water at the tap\" in 5 of 10 jobs; the others in 1 of 40; "
          "in all other homes the same crew in 1 of 30. Chance alone: about 1 in 1,000. Same households, same batches.");
    question.kind = QuestionKind::Recent;
    CHECK(sentence_of(question, cards, 0.001).starts_with("In the last eight weeks \"Water at the tap\" failed in 5 of 10 jobs; before, in 1 of 40."));
    question.kind = QuestionKind::Deferral;
    question.check = "temp-rise";
    CHECK(sentence_of(question, cards, 0.001).starts_with(
        "Crew C2 put off \"Rise in the sun\" 10 times, and 5 were still open after 14 days; of the others' 40, 1."));
    question.kind = QuestionKind::Material;
    question.subject = "fluid PG-2";
    question.only_later = true;
    CHECK(sentence_of(question, cards, 0.001).ends_with("the season may be behind it."));
    for (const auto kind : {QuestionKind::Material, QuestionKind::Crew, QuestionKind::Household, QuestionKind::Recent,
                            QuestionKind::Deferral}) {
        question.kind = kind;
        CHECK_FALSE(advice_for(question).empty());
        CHECK_FALSE(kind_in_words(kind).empty());
    }
}

TEST_CASE("a gauge that wanders is told with how far, which way and since when") {
    GaugeDrift drift;
    drift.instrument = "PG-4";
    drift.days = {"2026-09-01", "2026-09-10", "2026-09-20"};
    drift.differences = {1.0, 19.0, 25.0};
    drift.deviation = 14.2;
    drift.onset = 1;
    drift.peak = 2;
    drift.p = 1e-4;
    CHECK(sentence_of(drift, {}) ==
          "Gauge PG-4 read 22 kPa higher than the other gauges in the same streets from 2026-09-10 to 2026-09-20 (2 readings of "
          "\"pressure-limit-set\"), where single readings scatter by 14 kPa. Chance alone: about 1 in 10,000.");
    CHECK(advice_for(drift).starts_with("Hold PG-4 beside a second gauge"));
}

TEST_CASE("a gauge is held beside another only while it is read under that calibration") {
    GaugeDrift drift;
    drift.instrument = "PG-4";
    drift.days = {"2026-09-01", "2026-09-10", "2026-09-20"};
    drift.onset = 1;
    struct Row { GaugeStanding standing; const char* begins; bool is_order; };
    for (const Row& row : {Row{{}, "Hold PG-4 beside a second gauge at one tap today.", true},
                           Row{{.calibrated_since = "2026-10-02"},
                               "Trace what stands on PG-4: it read off from 2026-09-10 to 2026-09-20, and was calibrated on 2026-10-02 since.", true},
                           Row{{.is_in_use = false}, "Trace what stands on PG-4: it read off from 2026-09-10 to 2026-09-20, and was not read since.", true},
                           Row{{.calibrated_since = "2026-10-02", .is_set_aside = true}, "Nothing to trace any more: what PG-4 read", false},
                           Row{{.is_set_aside = true}, "Nothing to trace any more: what PG-4 read", false}}) {
        const auto advice = advice_for(drift, row.standing);
        CAPTURE(advice);
        CHECK(advice.starts_with(row.begins));
        CHECK(is_order(advice) == row.is_order);
    }
}

TEST_CASE("a batch is held back while it is fitted, traced while its jobs wait, and the season is named wherever it may be behind it") {
    Question question{.kind = QuestionKind::Material, .subject = "fluid PG-2", .check = "loop-freeze-point", .narrowed = "", .strata = {}, .own = {5, 10},
                      .others = {1, 40}, .jobs = {}};
    CHECK(advice_for(question).starts_with("Hold the rest of fluid PG-2 back."));
    const BatchStanding used_up{.last_fitted = "2026-09-20", .is_in_use = false, .waiting = 2};
    CHECK(advice_for(question, used_up).starts_with("Trace fluid PG-2: none was fitted after 2026-09-20, and 2 of its jobs still wait."));
    CHECK(advice_for(question, {.last_fitted = "2026-09-20", .is_in_use = false, .waiting = 1}).find("and 1 of its jobs still waits.") != std::string::npos);
    const auto nothing = advice_for(question, {.last_fitted = "2026-09-20", .is_in_use = false, .waiting = 0});
    CHECK(nothing.starts_with("Nothing to hold back: none of fluid PG-2 was fitted after 2026-09-20"));
    CHECK_FALSE(is_order(nothing));
    CHECK(is_order(advice_for(question)));
    CHECK(is_order(advice_for(question, used_up)));
    question.only_later = true;
    for (const auto& batch : {BatchStanding{}, used_up}) {
        const auto advice = advice_for(question, batch);
        CAPTURE(advice);
        CHECK(advice.substr(0, advice.find(". ")).ends_with("; the season may be behind it as well"));
    }
    CHECK(advice_for(question).starts_with("Ask what changed with fluid PG-2, and hold the rest of it back until you know"));
}

}  // namespace wm::audit
