#include "desk/figure_origins.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "checklist/derived_names.hpp"
#include "checklist/judge_words.hpp"
#include "measure/computations.hpp"
#include "plant/workout.hpp"

namespace wm::desk {

namespace {

using handover::FigureOrigin;

class Origins {
public:
    void derived(const checklist::DerivedSpec& spec) {
        if (known(spec.meaning)) return;
        rows_.push_back({std::string{spec.meaning}, std::string{spec.formula}, std::string{spec.source},
                         std::string{spec.work_out}});
        // What stands in its formula as a word of its own has an origin too.
        for (const auto& other : checklist::derived_table())
            if (spec.formula.find(other.meaning) != std::string_view::npos) derived(other);
    }

    void setting(const checklist::Setting& setting, const checklist::Library& library) {
        if (known(setting.meaning)) return;
        std::string sources;
        for (const auto& mark : setting.sources)
            sources += (sources.empty() ? "" : "; ") + checklist::source_in_words(library, mark);
        rows_.push_back({setting.meaning, fmt::format("set to {}", checklist::setting_text(setting)), sources, ""});
    }

    void computed(std::string_view figure, std::string_view name) {
        if (known(figure)) return;
        static const auto measuring = measure::measure_computations();
        for (const auto* table : {&plant::plant_computations(), &measuring})
            for (const auto& each : *table)
                if (each.name == name) {
                    rows_.push_back({std::string{figure}, each.equation, each.source, each.name});
                    return;
                }
    }

    [[nodiscard]] std::vector<FigureOrigin> taken() { return std::move(rows_); }

private:
    [[nodiscard]] bool known(std::string_view figure) const {
        return std::any_of(rows_.begin(), rows_.end(), [&](const FigureOrigin& row) { return row.figure == figure; });
    }
    std::vector<FigureOrigin> rows_;
};

void add_works_out(Origins& origins, checklist::WorkedOut what) {
    switch (what) {
        case checklist::WorkedOut::HoldTime:
            origins.computed("line of a holding test, its band and its verdict", "leak-verdict");
            origins.computed("how long a gauge must be watched", "gauge-test-time");
            break;
        case checklist::WorkedOut::SunOnPlane:
            origins.computed("clear sun", "clear-sky");
            origins.computed("sun on the tilted collector", "tilted-irradiance");
            break;
        case checklist::WorkedOut::TrueNorth: origins.computed("true north by the sun", "sun-position"); break;
        case checklist::WorkedOut::LoopRise: origins.computed("flow and rise of the loop", "thermosiphon-flow"); break;
        case checklist::WorkedOut::HeatGain: origins.computed("heat taken up against heat expected", "heat-balance"); break;
    }
}

void add_expression(Origins& origins, const std::optional<checklist::Expression>& expression,
                    const checklist::Library& library) {
    if (!expression) return;
    for (const auto& name : expression->names()) {
        if (const auto* spec = checklist::derived_named(name)) origins.derived(*spec);
        if (const auto* setting = checklist::setting_in(name, library)) origins.setting(*setting, library);
    }
}

}  // namespace

std::vector<FigureOrigin> figure_origins(const JobInHand& job, const JobView& view,
                                         const handover::Expectation& expectation) {
    Origins origins;
    for (const auto& shown : view.checks) {
        const auto* check = job.list->find(checklist::CheckId{shown.id});
        if (check == nullptr || !shown.applies) continue;
        if (shown.readings.empty() && check->kind != checklist::Kind::Computed) continue;
        add_expression(origins, check->tolerance, *job.library);
        add_expression(origins, check->measurand, *job.library);
        for (const auto& part : check->parts) add_expression(origins, part.tolerance, *job.library);
        if (check->series)
            for (const auto& also : check->series->also) add_expression(origins, also, *job.library);
        for (const auto what : check->works_out) add_works_out(origins, what);
        if (shown.limits.rule == "guarded") origins.computed("limits of a guarded decision", "acceptance-limits");
        if (shown.probability_conforming)
            origins.computed("doubt left", "conformity-probability");
    }
    if (!expectation.months.empty()) {
        origins.computed("heat from the sun in a month", "solar-fraction");
        origins.computed("heat that hot water needs", "water-load");
        origins.computed("money and carbon dioxide saved", "savings");
    }
    return origins.taken();
}

}  // namespace wm::desk
