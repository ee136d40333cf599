// Reports as no two jobs give them, from a seed: short and endless texts, no readings and sixty,
// nothing wrong and everything, up to sixty photos, A4 and Letter.
#pragma once

#include <random>

#include "handover/testing.hpp"

namespace wm::handover::testing {

class GeneratedReport {
public:
    explicit GeneratedReport(std::uint64_t seed) : engine_{seed} {}

    [[nodiscard]] ReportInput made() {
        ReportInput input = sample_report(0);
        input.paper = one_in(2) ? PaperSize::A4 : PaperSize::Letter;
        input.company = words(1, 12);
        input.place = words(1, 14);
        add_page_one(input);
        for (ReportStage& stage : input.stages) vary(stage);
        const std::size_t failures = one_in(3) ? 0 : below(24);
        input.nonconformities.clear();
        for (std::size_t i = 0; i < failures; ++i) {
            input.nonconformities.push_back({"check-" + std::to_string(i), words(2, 8), severity(),
                                             words(1, 20), words(2, 30),
                                             one_in(5) ? "" : words(1, 60), words(0, 12)});
        }
        input.deferrals.assign(below(6), {"day-after", words(2, 7), "2027-03-11", words(1, 5), words(1, 40)});
        input.concessions.assign(below(4), {"coll-tilt", words(2, 7), words(1, 5), words(1, 60)});
        for (ReportInstrument& tool : input.instruments) tool.certificate = words(1, 6);
        for (ReportSignature& signature : input.signatures) {
            signature.name = words(1, 10);
            signature.reservations = words(0, 60);
        }
        static const std::size_t photos[] = {0, 1, 2, 5, 7, 12, 60};
        for (std::size_t i = photos[below(std::size(photos))]; i > 0; --i) {
            input.photos.push_back({"", 200 + static_cast<int>(below(1400)),
                                    200 + static_cast<int>(below(1400)), words(1, 40)});
        }
        if (!one_in(4)) add_expectation(input);
        return input;
    }

    [[nodiscard]] std::size_t below(std::size_t count) {
        return static_cast<std::size_t>(engine_() % count);
    }
    [[nodiscard]] bool one_in(std::size_t count) { return below(count) == 0; }
    /// From `least` to `most` words, now and then one that no line can hold.
    [[nodiscard]] std::string words(std::size_t least, std::size_t most) {
        static const char* const some[] = {
            "collar", "relaid", "and", "Quellingham-Osterrath", "glued", "again", "12.5 N·m", "Ümit",
            "Жанна", "Ελένη", "upper", "terrace", "to", "the", "left", "of", "ridge", "(seen from below)",
            "Featherstonehaughworthington"};
        std::string text;
        const std::size_t count = least + below(most - least + 1);
        for (std::size_t i = 0; i < count; ++i) {
            text += (text.empty() ? "" : " ") +
                    (one_in(60) ? std::string(40 + below(120), 'W') : std::string{some[below(std::size(some))]});
        }
        return text;
    }

private:
    std::string severity() {
        static const char* const all[] = {"H", "D", "P", "R"};
        return all[below(4)];
    }
    Outcome outcome() {
        static const Outcome all[] = {Outcome::Conforms,     Outcome::DoesNotConform, Outcome::Inconclusive,
                                      Outcome::Deferred,     Outcome::Open,           Outcome::NotApplicable};
        return one_in(2) ? Outcome::Conforms : all[below(std::size(all))];
    }
    void add_page_one(ReportInput& input) {
        PageOne& page = input.page_one;
        static const HandoverState states[] = {HandoverState::Full, HandoverState::Restricted,
                                               HandoverState::NotHandedOver};
        page.state = states[below(3)];
        page.restrictions.clear();
        for (std::size_t i = below(5); i > 0; --i) page.restrictions.push_back(words(3, 30));
        for (LabelledLine& line : page.fitted) line.text += " " + words(0, 12);
        if (one_in(3)) page.hottest_tap.clear();
        for (std::size_t i = below(5); i > 0; --i)
            page.care.push_back({"2029-03-0" + std::to_string(i), words(1, 8), "k" + std::to_string(i)});
        for (LabelledLine& line : page.call) line.text = words(1, 14);
        if (one_in(4)) page.warranty.clear();
        if (one_in(3)) page.questions = {words(3, 20), words(3, 20)};
        input.plant.loop = one_in(2) ? figures::LoopKind::Direct : figures::LoopKind::Indirect;
        input.plant.feed = one_in(3) ? figures::FeedKind::Vented : figures::FeedKind::Mains;
    }
    void vary(ReportStage& stage) {
        const std::size_t copies = below(3);
        std::vector<ReportCheck> checks;
        for (std::size_t copy = 0; copy < copies; ++copy) {
            for (ReportCheck check : stage.checks) {
                if (one_in(4)) continue;
                check.outcome = outcome();
                check.why = words(0, 50);
                if (one_in(5)) check.question = words(4, 40);
                if (one_in(6)) check.title = words(2, 14);
                if (one_in(8)) check.derivation.assign(below(6), words(3, 25));
                if (one_in(6)) {
                    check.readings.clear();
                    for (std::size_t i = below(61); i > 0; --i)
                        check.readings.push_back({words(1, 6), one_in(3) ? "" : words(1, 3), "TW-1",
                                                  "2027-03-04 09:00 +02:00", words(1, 4), outcome(), words(0, 5)});
                }
                checks.push_back(std::move(check));
            }
        }
        stage.title = words(1, 10);
        stage.checks = std::move(checks);
    }
    void add_expectation(ReportInput& input) {
        for (const char* name : {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}) {
            const double low = static_cast<double>(below(200));
            input.expectation.months.push_back({name, low, low + static_cast<double>(below(100)), 400.0});
        }
        input.expectation.year.assign(4, {words(2, 6), words(3, 30)});
        input.expectation.today.assign(below(6), {words(2, 6), words(3, 40)});
        input.expectation.assumptions.assign(6, {words(1, 3), words(3, 30)});
        input.expectation.see_for_yourself.assign(3, words(20, 60));
        input.expectation.left_out.assign(below(3), words(5, 25));
    }

    std::mt19937_64 engine_;
};

}  // namespace wm::handover::testing
