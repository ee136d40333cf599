// What a set needs from the store: parts with amounts that are worked out for one house.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/document.hpp"
#include "checklist/evaluate.hpp"
#include "checklist/expression.hpp"
#include "checklist/findings.hpp"
#include "checklist/model.hpp"
#include "problem/result.hpp"

namespace wm::checklist {

/// One part. `name` and `note` may hold facts and derived values in braces, "{sys.tank_l}".
struct StorePart {
    std::string id;
    std::string check;  ///< of the kit, where it is counted
    std::string name;
    std::string note;
    units::Unit unit;
    std::optional<Expression> amount;   ///< a number that fits `unit`; always there once loaded
    std::optional<Expression> applies;  ///< absent: always needed
    std::vector<std::string> sources;
    std::vector<std::string> roof;  ///< checks of the commissioning that are in doubt where this part is missing or another
    std::vector<std::string> articles;  ///< article numbers or models that may be fitted, as on the plate; empty: any
    std::string serial, batch;      ///< the fact in which its serial number or batch is kept; "" for none
    Position at;
};

struct PartsList {
    int version = 0;
    std::string date;    ///< ISO day
    std::string reason;  ///< why this version was made
    std::vector<StorePart> parts;
};

/// Reads parts.toml with every fault noted: unknown names in braces and expressions, amounts of another dimension than the
/// unit, checks that the kit or the commissioning of the library does not hold, ids used twice, unknown sources.
void read_parts(PartsList& list, const Item& document, const Library& library, Findings& findings);

/// The same, refused as a whole at the first fault.
[[nodiscard]] Result<PartsList> load_parts(std::string_view text, std::string_view file_name, const Library& library);

/// One part for one house.
struct PartNeeded {
    const StorePart* part = nullptr;  ///< inside the list
    std::string name, note;           ///< with the values of the house; "…" where one is not known
    std::string amount;               ///< "10.7 m", rounded up to a tenth, "10 pieces" or "1 piece" to a whole one; "" while something is missing
    std::vector<std::string> how;     ///< how the amount came about, a line each
    Missing missing;                  ///< of amount, condition or name
    std::optional<units::Amount> least{};  ///< the amount before it was rounded up
};

/// The parts that this house needs, in the order of the list. One whose need is not known yet is among them.
[[nodiscard]] std::vector<PartNeeded> parts_needed(const PartsList& list, const Context& context);

}  // namespace wm::checklist
