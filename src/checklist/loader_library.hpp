// The tables of cautions.toml and instruments.toml, read with every fault noted.
#pragma once

#include "checklist/document.hpp"
#include "checklist/findings.hpp"
#include "checklist/model.hpp"

namespace wm::checklist {

void read_cautions(Library& library, const Item& document, Findings& findings);
void read_instruments(Library& library, const Item& document, Findings& findings);

}  // namespace wm::checklist
