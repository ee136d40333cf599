// A leaflet of the invented demo town, for the tests of its words and its sheet.
#pragma once

#include "handover/leaflet.hpp"

namespace wm::handover::testing {

inline Leaflet leaflet_sample() {
    Leaflet leaflet;
    leaflet.job = "J-07-0031";
    leaflet.company = "Witnessmark";
    leaflet.contact = "555-0100";
    leaflet.place = "14 Dovetail Steps, Ostervaun";
    leaflet.date = "2026-11-25";
    leaflet.fitted_by = "Tindo Quellaby";
    leaflet.serials = "ST-1, SC-1";
    leaflet.finished = true;
    leaflet.shown = true;
    leaflet.own_words = "The red tap under the stairs is the water, and I call before we go to my sister in August.";
    leaflet.controller = ControllerKind::None;
    leaflet.growing = GrowingWater::SeenDrain;
    leaflet.frost = true;
    leaflet.coldest = "−13 °C";
    leaflet.set = {"65 °C", "46 °C", "50 °C", "350 kPa (3.5 bar)", "600 kPa (6 bar)", "−20 °C", true};
    leaflet.care = {{"2026-12-25", "first visit", "first-visit", ""}, {"2027-11-25", "yearly service", "yearly-service", ""}};
    leaflet.written = {2026, 11, 25, 15, 0, 0, 300};
    return leaflet;
}

/// Every kind of set there is: loop, feed, small box, way of the growing water, frost, what was read, what is not known.
inline std::vector<Leaflet> leaflets_of_every_kind() {
    using figures::FeedKind;
    using figures::LoopKind;
    std::vector<Leaflet> all;
    for (const auto loop : {std::optional<LoopKind>{}, std::optional{LoopKind::Direct}, std::optional{LoopKind::Indirect}})
        for (const auto feed : {std::optional<FeedKind>{}, std::optional{FeedKind::Mains}, std::optional{FeedKind::Vented}})
            for (const auto box : {std::optional<ControllerKind>{}, std::optional{ControllerKind::None}, std::optional{ControllerKind::Temperature},
                                   std::optional{ControllerKind::Timer}})
                for (const auto growing : {std::optional<GrowingWater>{}, std::optional{GrowingWater::BackToMain}, std::optional{GrowingWater::Vessel},
                                           std::optional{GrowingWater::SeenDrain}})
                    for (int turn = 0; turn < 4; ++turn) {
                        auto leaflet = leaflet_sample();
                        leaflet.plant.loop = loop;
                        leaflet.plant.feed = feed;
                        leaflet.controller = box;
                        leaflet.growing = growing;
                        leaflet.frost = turn == 0 ? std::optional<bool>{} : std::optional{turn != 1};
                        leaflet.vulnerable = turn == 2;
                        leaflet.heated_pipe = turn == 3;
                        leaflet.finished = turn != 1;
                        leaflet.shown = turn != 2;
                        leaflet.practice = turn == 3 && !growing;
                        if (turn == 1) leaflet.set = {};
                        if (turn == 2) leaflet.cover_until = "until the family moves in, Tindo";
                        all.push_back(std::move(leaflet));
                    }
    return all;
}

}  // namespace wm::handover::testing
