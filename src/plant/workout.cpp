#include "plant/workout.hpp"

#include <iterator>

#include "plant/workout_tables.hpp"

namespace wm::plant {

const std::vector<units::Computation>& plant_computations() {
    static const auto all = [] {
        std::vector<units::Computation> table;
        for (auto part : {tables::water_computations(), tables::pressure_computations(),
                          tables::heat_computations(), tables::sun_computations(),
                          tables::circulation_computations(), tables::roof_computations(),
                          tables::hygiene_computations(), tables::yield_computations(),
                          tables::electric_computations()})
            table.insert(table.end(), std::make_move_iterator(part.begin()),
                         std::make_move_iterator(part.end()));
        return table;
    }();
    return all;
}

}  // namespace wm::plant
