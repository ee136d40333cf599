// Collecting what is wrong in a content file, with the line and the carets that show it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "checklist/expression.hpp"
#include "checklist/loader.hpp"
#include "checklist/position.hpp"

namespace wm::checklist {

/// The findings of one file, and the file's lines to quote from.
class Findings {
public:
    /// `text` must outlive the collection.
    explicit Findings(std::string_view text);

    /// A finding about the value at `at`; carets stand under the whole value.
    void error(Position at, std::string what, std::string what_to_do);
    void advise(Position at, std::string what, std::string what_to_do);
    /// A finding about a part of an expression. `subject` begins the sentence: "the tolerance of
    /// \"anchor-torque\"".
    void error_in(Position at, std::string_view expression, std::string_view subject,
                  const Expression::Fault& fault);

    /// How many were noted, also of those beyond the first 200 that are kept.
    [[nodiscard]] std::size_t count() const { return count_; }
    /// Whether looking further would tell nobody anything.
    [[nodiscard]] bool is_full() const;
    /// All findings in the order of the file; the collection is empty afterwards.
    [[nodiscard]] std::vector<Finding> taken();

private:
    [[nodiscard]] std::string_view line(std::uint32_t number) const;
    [[nodiscard]] std::string excerpt(Position at) const;
    [[nodiscard]] std::string excerpt(Position at, std::string_view expression, std::uint32_t begin,
                                      std::uint32_t end) const;
    void add(Finding finding);

    std::string_view text_;
    std::vector<std::size_t> line_starts_;
    std::vector<Finding> findings_;
    std::size_t count_ = 0;
};

}  // namespace wm::checklist
