// The limits hidden in a tolerance: what is allowed for what, once the facts are known.
//
// `reading within 10 % of sys.anchor_nm and sys.anchor_n at least 4` asks two things: the reading
// must lie in a range that can be drawn, and a fact must hold. Here the two are taken apart.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/expression.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// What the limits bind.
enum class Binds {
    Itself,      ///< the subject as it is
    BearingGap,  ///< the angle between the subject and `centre`, the shorter way round
};

/// Limits of one subject; several conditions on the same subject are drawn together.
struct Bound {
    std::uint32_t subject = 0;  ///< node: `reading`, `mean(reading)`, `bearing_gap(reading, X)`
    Binds binds = Binds::Itself;
    std::optional<units::Amount> low;
    std::optional<units::Amount> high;
    bool low_itself_allowed = true;
    bool high_itself_allowed = true;
    std::optional<units::Amount> centre;  ///< of within … of …, or of a bearing gap
    std::string centre_text;              ///< "20 N·m ± 10 %", empty without a centre
};

struct Bounds {
    std::vector<Bound> of_subjects;
    std::vector<std::uint32_t> conditions;  ///< nodes that hold or do not, whatever was read
    Missing missing;
};

/// Whether a node is what the limits are for.
using IsSubject = std::function<bool(std::uint32_t node)>;

/// The limits of the expression for the facts given. An `if` is followed along its true side; an
/// `or` with one side free of the subject likewise.
[[nodiscard]] Bounds bounds_of(const Expression& expression, const Given& given,
                               const IsSubject& is_subject);

/// The nodes, if any, that speak of the subject in a form whose limits cannot be drawn: an `or` of
/// two conditions on it, a `not`, a sum on the left of a comparison.
[[nodiscard]] std::vector<std::uint32_t> undrawable(const Expression& expression,
                                                    const IsSubject& is_subject);

/// The subject of a tolerance: everything that mentions `reading`.
[[nodiscard]] IsSubject mentions_reading(const Expression& expression);

}  // namespace wm::checklist
