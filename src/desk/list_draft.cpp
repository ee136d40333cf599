#include "desk/list_draft.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/document.hpp"
#include "checklist/rewrite.hpp"
#include "desk/permission.hpp"
#include "desk/workshop.hpp"
#include "store/files.hpp"

namespace wm::desk {

namespace fs = std::filesystem;

namespace {

using Kind = FormField::Kind;
using Deed = DraftStep::Deed;

/// What a form offers, in the order in which an installer meets it.
const std::vector<FormField>& offered() {
    static const std::vector<FormField> fields = {
        {"title", "Title", "", Kind::Text},
        {"question", "What is asked", "", Kind::Text},
        {"tolerance", "Tolerance", "", Kind::Text},
        {"target", "Target", "", Kind::Text},
        {"severity", "How bad a failure is", "", Kind::Choice, {"H", "D", "P", "R"}},
        {"core", "In the fast run", "", Kind::YesNo},
        {"hold", "Hold point", "", Kind::YesNo},
        {"photo", "Photo", "", Kind::Choice, {"none", "wanted", "required"}},
        {"why", "Why it matters", "", Kind::Text},
        {"how", "How it is measured", "", Kind::Text},
        {"pitfall", "What often goes wrong with it", "", Kind::Text},
        {"on_fail", "What to do when it fails", "", Kind::Text},
        {"applies", "When it applies", "", Kind::Text}};
    return fields;
}

const checklist::Item* check_in(const checklist::Item& list, std::string_view id) {
    const auto* checks = list.find("check");
    if (checks == nullptr) return nullptr;
    for (const auto& check : checks->items)
        if (const auto* named = check.find("id"); named != nullptr && named->text == id) return &check;
    return nullptr;
}

fs::path draft_file(const Desk& desk, const std::string& list, std::string_view after = "") {
    return desk.setup().data / "checklists" / "draft" / fmt::format("{}{}.toml", list, after);
}

Result<std::string> draft_of(const Desk& desk, const std::string& list) {
    const auto published = published_text(desk, list);
    if (!published) return published;
    auto& disk = desk.journal().disk();
    const auto there = store::look_at_file(draft_file(desk, list), disk);
    if (!there) return tl::unexpected(there.error());
    return *there ? store::read_file(draft_file(desk, list), disk) : published;
}

/// In TOML's spelling; a yes or no as the key wants it.
std::string spelled(std::string_view key, const std::string& value) {
    for (const auto& field : offered())
        if (field.key == key && field.kind == Kind::YesNo) return value == "yes" ? "true" : "false";
    return checklist::quoted(value);
}

Result<std::string> with_lines(const std::string& text, const DraftStep& step) {
    const auto now = checklist::lines_of_check(text, step.check);
    if (now.empty())
        return refused({fmt::format("The check {} cannot be found in the text.", step.check), step.list + ".toml",
                        "Put the text right where its fault is told, or start anew from the published list.", ProblemKind::Unreadable});
    std::string lines = step.text;
    if (!lines.ends_with('\n')) lines += '\n';
    std::string changed = text;
    changed.replace(static_cast<std::size_t>(now.data() - text.data()), now.size(), lines);
    return changed;
}

Result<void> set_aside(const Desk& desk, const std::string& list) {
    auto& disk = desk.journal().disk();
    const auto file = draft_file(desk, list);
    const auto there = store::look_at_file(file, disk);
    if (!there) return tl::unexpected(there.error());
    if (!*there) return {};
    const auto text = store::read_file(file, disk);
    if (!text) return tl::unexpected(text.error());
    if (auto kept = store::write_file(draft_file(desk, list, "-before"), *text, disk); !kept) return kept;
    return store::remove_file(file, disk);
}

}  // namespace

std::vector<FormField> form_of(const std::string& text, std::string_view check) {
    const auto list = checklist::read_document(text, "the draft");
    if (!list) return {};
    const auto* table = check_in(*list, check);
    if (table == nullptr) return {};
    auto form = offered();
    for (auto& field : form) {
        const auto* value = table->find(field.key);
        if (value != nullptr) field.value = value->type == checklist::ItemType::YesNo ? (value->yes ? "yes" : "no") : value->text;
    }
    return form;
}

Result<ListDraftView> carry_out(Desk& desk, const DraftStep& step) {
    if (auto allowed = may(desk.setup(), store::Role::Lead, "change a checklist"); !allowed) return tl::unexpected(allowed.error());
    ListDraftView view;
    view.list = step.list;
    if (step.deed == Deed::Anew) {
        if (auto done = set_aside(desk, step.list); !done) return tl::unexpected(done.error());
        view.said = "Begun anew from the published list. What was there lies in checklists/draft of the data folder.";
    }
    auto text = draft_of(desk, step.list);
    if (!text) return tl::unexpected(text.error());
    if (step.deed == Deed::Value || step.deed == Deed::Lines) {
        auto changed = step.deed == Deed::Value ? checklist::with_value(*text, step.list + ".toml", {step.check, step.key}, spelled(step.key, step.text))
                                                : with_lines(*text, step);
        if (!changed) return tl::unexpected(changed.error());
        if (auto kept = store::write_file(draft_file(desk, step.list), *changed, desk.journal().disk()); !kept) return tl::unexpected(kept.error());
        text = std::move(changed);
    }
    if (step.deed == Deed::Publish) {
        const auto done = publish(desk, *text, step.text);
        if (!done) return tl::unexpected(done.error());
        if (auto gone = set_aside(desk, step.list); !gone) return tl::unexpected(gone.error());
        view.said = fmt::format("Published as version {}. New jobs are opened with it; open jobs keep theirs.", done->version);
        text = published_text(desk, step.list);
        if (!text) return tl::unexpected(text.error());
    }
    auto about = looked_at(desk, *text, step.deed == Deed::Past ? Over::AllPast : Over::NoPast);
    if (!about) return tl::unexpected(about.error());
    view.about = std::move(*about);
    // A text that cannot be read names no list.
    for (const auto& list : desk.library().checklists)
        if (list.name == step.list) view.about.published = list.version;
    view.check = step.check;
    const auto& checks = view.about.checks;
    const bool known = std::any_of(checks.begin(), checks.end(), [&](const DraftCheck& check) { return check.id == step.check; });
    if (view.check.empty() || (!known && !checks.empty() && checklist::lines_of_check(*text, step.check).empty()))
        view.check = checks.empty() ? std::string{} : checks.front().id;
    view.form = form_of(*text, view.check);
    view.lines = std::string{checklist::lines_of_check(*text, view.check)};
    return view;
}

}  // namespace wm::desk
