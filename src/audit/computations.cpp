// The table of audit computations, and what its parts share.
#include "audit/computations.hpp"

#include <cmath>
#include <iterator>
#include <utility>

#include "audit/computation_tables.hpp"
#include "measure/demands.hpp"

namespace wm::audit {
namespace {

bool is_count(double value) {
    constexpr double exact_up_to = 9007199254740992.0;
    return value >= 0.0 && value < exact_up_to && value == std::floor(value);
}

Result<std::int64_t> whole(double value, std::string_view where, std::string_view symbol) {
    if (is_count(value)) return static_cast<std::int64_t>(value);
    return refused(measure::unfit_input(where, symbol, "it must be a whole number of 0 or more"));
}

}  // namespace

units::Symbol symbol(std::string name, std::string unit, std::string meaning) {
    return {.name = std::move(name), .unit = std::move(unit), .meaning = std::move(meaning)};
}

units::Symbol list_symbol(std::string name, std::string unit, std::string meaning) {
    return output(std::move(name), std::move(unit), std::move(meaning), units::Shape::List);
}

units::Symbol output(std::string name, std::string unit, std::string meaning, units::Shape shape) {
    units::Symbol announced = symbol(std::move(name), std::move(unit), std::move(meaning));
    announced.shape = shape;
    return announced;
}

units::Symbol optional(units::Symbol symbol) {
    symbol.optional = true;
    return symbol;
}

units::Symbol unbounded(units::Symbol symbol) {
    symbol.unbounded = true;
    return symbol;
}

Result<std::int64_t> count_of(const units::Arguments& given, std::string_view where,
                              std::string_view symbol) {
    return whole(units::number_of(given, symbol), where, symbol);
}

Result<std::vector<std::int64_t>> counts_of(const units::Arguments& given, std::string_view where,
                                            std::string_view symbol) {
    std::vector<std::int64_t> counts;
    for (const double value : units::list_of(given, symbol)) {
        const auto count = whole(value, where, symbol);
        if (!count) return refused(count.error());
        counts.push_back(*count);
    }
    return counts;
}

Result<std::vector<Tally>> tallies_of(const units::Arguments& given, std::string_view where,
                                      std::string_view failed, std::string_view tries) {
    const auto failures = counts_of(given, where, failed);
    if (!failures) return refused(failures.error());
    const auto attempts = counts_of(given, where, tries);
    if (!attempts) return refused(attempts.error());
    if (attempts->size() != 1 && attempts->size() != failures->size()) {
        return refused(
            measure::unfit_input(where, tries, "it needs as many figures as there are failures"));
    }
    std::vector<Tally> tallies;
    for (std::size_t i = 0; i < failures->size(); ++i) {
        tallies.push_back({(*failures)[i], (*attempts)[attempts->size() == 1 ? 0 : i]});
    }
    return tallies;
}

Result<Tally> tally_of(const units::Arguments& given, std::string_view where,
                       std::string_view failed, std::string_view tries) {
    const auto failures = count_of(given, where, failed);
    if (!failures) return refused(failures.error());
    const auto attempts = count_of(given, where, tries);
    if (!attempts) return refused(attempts.error());
    return Tally{*failures, *attempts};
}

std::vector<units::Computation> audit_computations() {
    std::vector<units::Computation> all = chart_computations();
    for (auto part : {share_computations(), exact_computations()}) {
        all.insert(all.end(), std::make_move_iterator(part.begin()),
                   std::make_move_iterator(part.end()));
    }
    return all;
}

}  // namespace wm::audit
