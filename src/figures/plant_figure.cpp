#include "figures/plant_figure.hpp"

#include <algorithm>
#include <cmath>

#include "figures/frame.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/plant_parts.hpp"

namespace wm::figures {

using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using measure::Outcome;

namespace {

/// Rows and columns of equal cells; `mark_mm` is what fits into them.
struct Rack {
    double mark_mm;
    double cell_width_mm;
    double cell_height_mm;
    int columns;
};

double label_em(double mark_mm) {
    return 0.64 * mark_mm;
}

Rack rack_for(int count, int label_letters, Box region, double wanted_mm) {
    for (double mark = wanted_mm;; mark *= 0.95) {
        const double label = label_letters > 0 ? (0.25 + 0.42 * label_letters) * mark : 0.0;
        const double cell_width = 1.25 * mark + label;
        const double cell_height = 1.25 * mark;
        const int columns = static_cast<int>(region.width / cell_width);
        const int rows = static_cast<int>(region.height / cell_height);
        if (columns * rows >= count || mark < 0.3) {
            return {mark, cell_width, cell_height, std::max(columns, 1)};
        }
    }
}

bool settled(Outcome outcome) {
    return outcome == Outcome::Conforms || outcome == Outcome::NotApplicable;
}

std::vector<const PlantPin*> pins_at(const PlantInput& input, Station station) {
    std::vector<const PlantPin*> pins;
    for (const PlantPin& pin : input.pins) {
        if (station_of(pin.check) == station) pins.push_back(&pin);
    }
    return pins;
}

Finishes finishes_of(const PlantInput& input) {
    Finishes finishes{};
    for (const Station station : all_stations) {
        const auto pins = pins_at(input, station);
        const bool complete = std::all_of(
            pins.begin(), pins.end(), [](const PlantPin* pin) { return settled(pin->outcome); });
        finishes[static_cast<std::size_t>(station)] =
            complete && !pins.empty() ? Finish::Complete : Finish::Sketched;
    }
    return finishes;
}

/// The point of the box's edge that is nearest to `to`.
Point edge_toward(const Box& box, Point to) {
    return {std::clamp(to.x, box.left, box.right()), std::clamp(to.y, box.top, box.bottom())};
}

void draw_pin(Canvas& on, const PlantPin& pin, Point centre, double mark_mm) {
    if (pin.current) {
        on.stroke_circle(centre, 0.78 * mark_mm, {Ink::Accent, 0.16 * mark_mm});
    }
    draw_outcome_mark(on, pin.outcome, centre, mark_mm);
    if (pin.label.empty()) return;
    on.text({centre.x + 0.66 * mark_mm, centre.y + 0.24 * mark_mm}, pin.label,
            {label_em(mark_mm), drawing::Weight::Regular, Ink::Text, drawing::Anchor::Start});
}

class StationDrawer {
public:
    StationDrawer(Canvas& on, const Frame& frame, const PlantInput& input, PlantPlaces& places)
        : on_{on}, frame_{frame}, input_{input}, places_{places} {}

    void draw(Station station) {
        const auto pins = pins_at(input_, station);
        if (pins.empty()) return;
        const Box region = frame_.at(rack_of(station));
        std::size_t letters = 0;
        for (const PlantPin* pin : pins) letters = std::max(letters, pin->label.size());
        const Rack rack = rack_for(static_cast<int>(pins.size()), static_cast<int>(letters), region,
                                   input_.pin_mm);
        const Box used = used_box(region, rack, static_cast<int>(pins.size()));
        draw_ground(station, used, frame_.at(part_of(station, input_.shape)));
        for (std::size_t i = 0; i < pins.size(); ++i) {
            const int column = static_cast<int>(i) % rack.columns;
            const int row = static_cast<int>(i) / rack.columns;
            const Point centre{region.left + column * rack.cell_width_mm + 0.62 * rack.mark_mm,
                               region.top + row * rack.cell_height_mm + 0.62 * rack.mark_mm};
            draw_pin(on_, *pins[i], centre, rack.mark_mm);
            places_.pins.push_back({pins[i]->check, centre, rack.mark_mm / 2.0});
        }
        places_.stations.push_back({station, used});
    }

private:
    [[nodiscard]] static Box used_box(Box region, const Rack& rack, int count) {
        const int columns = std::min(count, rack.columns);
        const int rows = (count + rack.columns - 1) / rack.columns;
        return {region.left, region.top, columns * rack.cell_width_mm, rows * rack.cell_height_mm};
    }

    void draw_ground(Station station, const Box& used, Point part) {
        const double margin = frame_.mm(0.7);
        const Box ground{used.left - margin, used.top - margin, used.width + 2.0 * margin,
                         used.height + 2.0 * margin};
        const double em = frame_.mm(2.5);
        on_.line(edge_toward(ground, part), part, {Ink::Faint, frame_.mm(0.18)});
        on_.fill_circle(part, frame_.mm(0.7), Ink::Faint);
        on_.fill_box(ground, frame_.mm(1.0), Ink::Paper);
        on_.stroke_box(ground, frame_.mm(1.0), {Ink::Hairline, frame_.mm(0.2)});
        // A leader that leaves upward would run through a name above the rack.
        const bool name_below =
            part.y < ground.top && part.x > ground.left && part.x < ground.right();
        if (em < least_em_mm) return;
        on_.text({ground.left, name_below ? ground.bottom() + em : ground.top - 0.4 * em},
                 name_of(station),
                 {em, drawing::Weight::Regular, Ink::Faint, drawing::Anchor::Start});
    }

    Canvas& on_;
    const Frame& frame_;
    const PlantInput& input_;
    PlantPlaces& places_;
};

void sort_as_input(const PlantInput& input, std::vector<PinPlace>& places) {
    const auto rank = [&](const PinPlace& place) {
        return std::find_if(input.pins.begin(), input.pins.end(),
                            [&](const PlantPin& pin) { return pin.check == place.check; }) -
               input.pins.begin();
    };
    std::stable_sort(places.begin(), places.end(),
                     [&](const PinPlace& a, const PinPlace& b) { return rank(a) < rank(b); });
}

}  // namespace

PlantPlaces draw_plant(Canvas& on, Box into, const PlantInput& input) {
    const Frame frame{plant_width, plant_height, into};
    draw_plant_parts(on, frame, input.shape, finishes_of(input));
    PlantPlaces places;
    StationDrawer drawer{on, frame, input, places};
    for (const Station station : all_stations) drawer.draw(station);
    sort_as_input(input, places.pins);
    return places;
}

}  // namespace wm::figures
