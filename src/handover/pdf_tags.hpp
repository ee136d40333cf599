// Turns the marks of drawn pages into marked content and their tree into a structure tree.
#pragma once

#include "handover/tags.hpp"

class QPDF;

namespace wm::handover {

/// Adds the structure of the pages from `first_page` on; with an empty tree the file stays as it is.
/// A file that has a structure already keeps it, and the new parts follow. Text of a figure stands
/// in its alternative. Throws what qpdf throws. Source: ISO 32000-1:2008, 14.7 and 14.8.
void add_structure(QPDF& pdf, const TagTree& tree, int first_page);

}  // namespace wm::handover
