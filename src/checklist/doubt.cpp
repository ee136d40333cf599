// The uncertainty of a reading.
#include "checklist/doubt.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "checklist/evaluate.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"
#include "measure/instrument.hpp"
#include "measure/uncertainty.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

using units::Amount;

// Differences and uncertainties of temperatures are kelvins, not places on the scale.
Amount as_difference(const Amount& amount) {
    return {amount.si, amount.dimension, units::Scale::Plain};
}

Amount no_doubt(const units::Unit& unit) {
    return {0.0, unit.dimension, units::Scale::Plain};
}

std::optional<Amount> worked_out(const Expression& expression, const Amount& reading,
                                 const Context& context) {
    const Given given{context, {{"reading", reading}}, nullptr};
    const auto amount = amount_of(expression, expression.root(), given);
    if (!amount || amount->dimension != reading.dimension) return std::nullopt;
    if (amount->scale == units::Scale::Point) return std::nullopt;
    return Amount{std::abs(amount->si), amount->dimension, units::Scale::Plain};
}

units::Unit difference_of(const units::Unit& unit) {
    return unit.scale == units::Scale::Point ? *units::unit_named("K") : unit;
}

// Twice the resolution: the smallest difference that can be told from none.
std::optional<Amount> twice_resolution(std::string_view resolution, const units::Unit& unit) {
    const auto read = units::read_amount(resolution, difference_of(unit), "resolution");
    if (!read) return std::nullopt;
    return Amount{2.0 * read->amount().si, unit.dimension, units::Scale::Plain};
}

std::string calibration_complaint(const InstrumentInUse& used, const InstrumentType* type,
                                  std::string_view today) {
    using measure::CalibrationState;
    const auto& id = used.card.id;
    switch (measure::calibration_state(used.card, today)) {
        case CalibrationState::InDate:
            return "";
        case CalibrationState::NotNeeded:
            if (type == nullptr || !type->calibrated) return "";
            return fmt::format("{} has no date of calibration, and a {} needs one", id, type->id);
        case CalibrationState::Overdue:
            return fmt::format("the calibration of {} was due on {}", id,
                               *used.card.calibration_due);
        case CalibrationState::NotYet:
            return fmt::format("{} is registered as calibrated on {}, after the reading", id,
                               *used.card.calibrated_on);
        case CalibrationState::DatesUnclear:
            return fmt::format("the calibration dates of {} cannot be read", id);
    }
    return "";
}

class Finder {
public:
    Finder(const DoubtCase& of, const std::optional<InstrumentInUse>& used, const Amount& reading,
           const Context& context)
        : of_{of},
          used_{used},
          reading_{reading},
          context_{context},
          type_{context.library.type_named(used ? used->card.type : of.type.value_or(""))} {
        doubt_.expanded = no_doubt(of.unit);
    }

    Doubt found() {
        if (used_)
            of_registered();
        else if (of_.type)
            of_weakest();
        return std::move(doubt_);
    }

private:
    void of_registered() {
        const auto& id = used_->card.id;
        auto complaint = calibration_complaint(*used_, type_, context_.today);
        if (complaint.empty() && used_->preuse == PreUse::Failed)
            complaint = fmt::format("{} failed its own check before use", id);
        if (complaint.empty() && type_ != nullptr && type_->unit.dimension != of_.unit.dimension)
            complaint =
                fmt::format("{} measures {}, and {} is asked for", id,
                            units::dimension_in_words(type_->unit.dimension, type_->unit.scale),
                            units::dimension_in_words(of_.unit.dimension, of_.unit.scale));
        if (!complaint.empty()) {
            doubt_.not_evidence = std::move(complaint);
            return;
        }
        if (!used_->uncertainty_as_judged.empty()) {
            const auto given =
                uncertainty_from(used_->uncertainty_as_judged, of_.unit, reading_, context_);
            if (given)
                doubt_.expanded = *given;
            else
                doubt_.not_evidence =
                    fmt::format("\"{}\" is no uncertainty", used_->uncertainty_as_judged);
            return;
        }
        const auto own =
            of_.as == ReadAs::Difference ? difference_of_registered() : figure_of_registered();
        if (own)
            doubt_.expanded = *own;
        else
            doubt_.not_evidence = fmt::format("the uncertainty of {} is not known", id);
        doubt_.words = fmt::format("read with {}", id);
        const auto error = permissible_error();
        if (own && !error.empty() && of_.as == ReadAs::Absolute)
            doubt_.words += fmt::format(
                ", whose uncertainty of {} is made of its permissible error of {}",
                amount_text(*own, difference_of(of_.unit)), error);
    }

    // What stands behind the mark of a permissible error; "" where the card holds a calibrated
    // uncertainty or nothing.
    std::string_view permissible_error() const {
        std::string_view text = used_->card.expanded_uncertainty;
        if (!text.starts_with(permissible_error_mark)) return "";
        return trimmed(text.substr(permissible_error_mark.size()));
    }

    // Equally likely up to the permissible error, and the step of the scale.
    std::optional<Amount> figure_of_permissible_error(std::string_view text) const {
        const auto& unit = type_ == nullptr ? of_.unit : type_->unit;
        const auto half = uncertainty_from(text, unit, reading_, context_);
        const auto& own = used_->card.resolution;
        const auto twice =
            twice_resolution(own.empty() && type_ != nullptr ? type_->resolution : own, unit);
        if (!half || !twice) return std::nullopt;
        const auto expanded = measure::expanded_uncertainty({half->si, twice->si / 2.0});
        if (!expanded) return std::nullopt;
        return Amount{*expanded, half->dimension, units::Scale::Plain};
    }

    std::optional<Amount> figure_of_registered() const {
        const auto& text = used_->card.expanded_uncertainty;
        if (const auto error = permissible_error(); !error.empty())
            return figure_of_permissible_error(error);
        if (!text.empty())
            return uncertainty_from(text, type_ == nullptr ? of_.unit : type_->unit, reading_,
                                    context_);
        if (type_ == nullptr || !type_->uncertainty) return std::nullopt;
        return worked_out(*type_->uncertainty, reading_, context_);
    }

    std::optional<Amount> difference_of_registered() const {
        const auto by_type = difference_of_type();
        const auto& unit = type_ == nullptr ? of_.unit : type_->unit;
        const auto own = twice_resolution(used_->card.resolution, unit);
        if (by_type && own) return by_type->si > own->si ? by_type : own;
        return by_type ? by_type : own;
    }

    std::optional<Amount> difference_of_type() const {
        if (type_ == nullptr) return std::nullopt;
        if (type_->difference_uncertainty)
            return worked_out(*type_->difference_uncertainty, as_difference(reading_), context_);
        return twice_resolution(type_->resolution, type_->unit);
    }

    void of_weakest() {
        if (type_ == nullptr || type_->unit.dimension != of_.unit.dimension ||
            !type_->uncertainty) {
            doubt_.not_evidence =
                fmt::format("nothing is known of an instrument called {}", *of_.type);
            return;
        }
        const auto figure = of_.as == ReadAs::Difference
                                ? difference_of_type()
                                : worked_out(*type_->uncertainty, reading_, context_);
        if (figure)
            doubt_.expanded = *figure;
        else
            doubt_.not_evidence = fmt::format("the uncertainty of a {} is not known", *of_.type);
        doubt_.words = fmt::format(
            "no instrument was named, so the weakest permitted {} is assumed", *of_.type);
    }

    const DoubtCase& of_;
    const std::optional<InstrumentInUse>& used_;
    const Amount& reading_;
    const Context& context_;
    const InstrumentType* type_;
    Doubt doubt_;
};

}  // namespace

Doubt doubt_of(const DoubtCase& of, const std::optional<InstrumentInUse>& used,
               const Amount& reading, const Context& context) {
    return Finder{of, used, reading, context}.found();
}

std::optional<Amount> uncertainty_from(std::string_view text, const units::Unit& unit,
                                       const Amount& reading, const Context& context) {
    auto difference = unit;
    if (unit.scale == units::Scale::Point) difference = *units::unit_named("K");
    if (const auto bare = units::read_amount(text, difference, "uncertainty")) {
        const bool is_share = bare->unit.symbol == "%" && unit.symbol != "%";
        if (!is_share && bare->value >= 0.0)
            return Amount{bare->amount().si, unit.dimension, units::Scale::Plain};
    }
    const auto expression = Expression::parse(std::string{text});
    if (!expression) return std::nullopt;
    Scope scope;
    scope.names["reading"] = Type::number(unit);
    const auto type = type_of(*expression, scope);
    if (!type || type->sort != Sort::Number) return std::nullopt;
    if (expression->node(expression->root()).op == Op::Share) {
        if (reading.scale == units::Scale::Point) return std::nullopt;
        return Amount{std::abs(reading.si) * expression->node(expression->root()).number.si,
                      reading.dimension, units::Scale::Plain};
    }
    return worked_out(*expression, reading, context);
}

}  // namespace wm::checklist
