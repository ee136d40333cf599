// The linter.
#include "checklist/lint.hpp"

#include <algorithm>
#include <utility>

#include "checklist/document.hpp"
#include "checklist/failure_list.hpp"
#include "checklist/lint_rules.hpp"
#include "checklist/loader_check.hpp"
#include "checklist/loader_library.hpp"
#include "checklist/parts_list.hpp"

namespace wm::checklist {
namespace {

// The library with this checklist in place of its older self.
Library with(const Library& library, const Checklist& list) {
    Library all = library;
    std::erase_if(all.checklists, [&](const Checklist& other) { return other.name == list.name; });
    all.checklists.push_back(list);
    return all;
}

void add(std::vector<Finding>& findings, std::vector<Finding> more) {
    findings.insert(findings.end(), std::make_move_iterator(more.begin()),
                    std::make_move_iterator(more.end()));
}

LintReport lint_checklist(const Result<Item>& document, std::string_view text,
                          std::string_view file_name, const Library& library) {
    auto loaded = read_checklist(document, text, file_name);
    LintReport report;
    report.checks = static_cast<int>(loaded.checklist.checks.size());
    report.core = static_cast<int>(std::count_if(loaded.checklist.checks.begin(),
                                                 loaded.checklist.checks.end(),
                                                 [](const Check& check) { return check.core; }));
    const auto all = with(library, loaded.checklist);
    const auto& list = all.checklists.back();
    Findings findings{text};
    const Linted linted{list, all, findings};
    // Checks that could not be read are no longer there; what refers to them would be blamed
    // wrongly.
    const bool whole = loaded.findings.empty();
    if (whole) lint_order(linted);
    lint_names(linted);
    const auto before = findings.count();
    if (whole) lint_expressions(linted);
    // Only expressions that passed the dimension check may be worked out.
    if (whole && findings.count() == before) {
        lint_reach(linted);
        lint_limits(linted);
        lint_examples(linted);
    }
    report.findings = std::move(loaded.findings);
    add(report.findings, findings.taken());
    std::stable_sort(
        report.findings.begin(), report.findings.end(), [](const Finding& a, const Finding& b) {
            return std::pair{a.at.line, a.at.column} < std::pair{b.at.line, b.at.column};
        });
    return report;
}

bool holds_any(const Item& document, std::initializer_list<std::string_view> keys) {
    return std::any_of(keys.begin(), keys.end(),
                       [&](std::string_view key) { return document.find(key) != nullptr; });
}

}  // namespace

bool LintReport::has_errors() const {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& f) { return f.grade == Grade::Error; });
}

LintReport lint(std::string_view text, std::string_view file_name, const Library& library) {
    const auto document = read_document(text, file_name);
    if (!document || holds_any(*document, {"checklist", "check", "stage"}))
        return lint_checklist(document, text, file_name, library);
    LintReport report;
    Findings findings{text};
    Library own;
    if (holds_any(*document, {"caution", "tail"})) {
        read_cautions(own, *document, findings);
        lint_cautions(own, findings);
    } else if (holds_any(*document, {"instrument_type", "source", "setting"})) {
        read_instruments(own, *document, findings);
        lint_instruments(own, findings);
    } else if (holds_any(*document, {"parts", "part"})) {
        PartsList parts;
        read_parts(parts, *document, library, findings);
    } else if (holds_any(*document, {"failures", "failure", "symptom"})) {
        FailureList failures;
        read_failures(failures, *document, library, findings);
    } else {
        findings.error({1, 1},
                       "the file holds no checklist, caution, instrument type, source or setting",
                       "Begin a checklist with [checklist].");
    }
    report.findings = findings.taken();
    return report;
}

}  // namespace wm::checklist
