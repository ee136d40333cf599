#include "desk/retention.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "checklist/document.hpp"
#include "desk/permission.hpp"

namespace wm::desk {

namespace {

using checklist::Item;
using checklist::ItemType;

tl::unexpected<Problem> not_read(std::string what, std::string_view file, const Item& at, std::string to_do) {
    return refused({std::move(what), checklist::place_of(file, at.at), std::move(to_do), ProblemKind::Unreadable});
}

Result<std::string> text_of(const Item& table, std::string_view key, std::string_view file) {
    const auto* item = table.find(key);
    if (item == nullptr || item->type != ItemType::Text || item->text.empty())
        return not_read(fmt::format("The text \"{}\" is missing.", key), file, item == nullptr ? table : *item,
                        fmt::format("Write {} = \"…\".", key));
    return item->text;
}

Result<RetentionRule> read_rule(const Item& table, std::string_view file) {
    RetentionRule rule;
    for (const auto& [key, into] : {std::pair{"record", &rule.record}, std::pair{"why", &rule.why}, std::pair{"source", &rule.source}}) {
        auto text = text_of(table, key, file);
        if (!text) return tl::unexpected(text.error());
        *into = std::move(*text);
    }
    const auto* years = table.find("years");
    if (years == nullptr || years->type != ItemType::Whole || years->number < 0.0 || years->number > 100.0)
        return not_read("How many years is missing, or no whole number from 0 to 100.", file, years == nullptr ? table : *years,
                        "Write years = 10.");
    rule.years = static_cast<int>(years->number);
    const auto from = text_of(table, "from", file);
    if (!from) return tl::unexpected(from.error());
    if (*from != "handover" && *from != "end of year")
        return not_read(fmt::format("No period counts from \"{}\".", *from), file, *table.find("from"), "Use handover or end of year.");
    rule.from = *from == "handover" ? KeptFrom::Handover : KeptFrom::EndOfYear;
    const auto early = text_of(table, "early", file);
    if (!early) return tl::unexpected(early.error());
    if (*early != "warn" && *early != "refuse")
        return not_read(fmt::format("\"{}\" is nothing to do about an early erasure.", *early), file, *table.find("early"),
                        "Use warn or refuse.");
    rule.early = *early == "warn" ? EarlyErasure::Warn : EarlyErasure::Refuse;
    return rule;
}

Result<RetentionRules> read_country(const Item& table, std::string_view file) {
    auto code = text_of(table, "code", file);
    if (!code) return tl::unexpected(code.error());
    auto name = text_of(table, "name", file);
    if (!name) return tl::unexpected(name.error());
    RetentionRules rules{std::move(*code), std::move(*name), {}};
    if (const auto* list = table.find("rule"))
        for (const auto& each : list->items) {
            auto rule = read_rule(each, file);
            if (!rule) return tl::unexpected(rule.error());
            rules.rules.push_back(std::move(*rule));
        }
    return rules;
}

std::string in_small(std::string_view word) {
    std::string small{word};
    for (char& c : small)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return small;
}

/// The day from which the periods of a job count; nothing while it is not finished.
std::string finished_on(const record::JobState& state) {
    if (state.handover) return day_of(state.handover->origin.time);
    if (state.abandoned) return day_of(state.abandoned->first.time);
    if (state.phase() == record::JobPhase::Refused) return day_of(state.last_time);
    return "";
}

void count_in(RetentionView& view, const record::JobState& state, const RetentionRules& rules) {
    view.jobs.push_back(state.number);
    if (state.opened->practice) return;
    const std::string day = finished_on(state);
    if (day.empty()) {
        view.open = true;
        return;
    }
    for (const auto& rule : rules.rules) {
        const std::string until = last_day_kept(day, rule.from, rule.years);
        const auto known = std::find_if(view.kept.begin(), view.kept.end(), [&](const KeptUntil& kept) { return kept.rule.record == rule.record; });
        if (known == view.kept.end()) view.kept.push_back({rule, until, state.number});
        else if (known->until < until) *known = {rule, until, state.number};
        view.until = std::max(view.until, until);
    }
}

}  // namespace

Result<std::vector<RetentionRules>> read_retention(std::string_view text, std::string_view file_name) {
    const auto document = checklist::read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    const auto* countries = document->find("country");
    if (countries == nullptr || countries->items.empty())
        return not_read("It names no country.", file_name, *document, "Write a [[country]] with code, name and rules.");
    std::vector<RetentionRules> all;
    for (const auto& each : countries->items) {
        auto country = read_country(each, file_name);
        if (!country) return tl::unexpected(country.error());
        all.push_back(std::move(*country));
    }
    return all;
}

Result<RetentionRules> rules_of(const std::vector<RetentionRules>& all, std::string_view country) {
    std::vector<std::string> codes;
    for (const auto& each : all) {
        if (in_small(each.country) == in_small(country)) return each;
        codes.push_back(each.country);
    }
    return refused({fmt::format("There are no periods for the country \"{}\".", country), "retention",
                    fmt::format("Use one of {}, or add it to assets/retention.toml with its sources.", fmt::join(codes, ", ")),
                    ProblemKind::Unreadable});
}

std::string last_day_kept(std::string_view day, KeptFrom from, int years) {
    if (day.size() < 10) return "";
    int year = 0;
    for (const char c : day.substr(0, 4)) year = year * 10 + (c - '0');
    std::string rest = from == KeptFrom::EndOfYear ? "-12-31" : std::string{day.substr(4, 6)};
    std::string last = fmt::format("{:04}{}", year + years, rest);
    return units::day_number(last) ? last : fmt::format("{:04}-02-28", year + years);
}

Result<std::vector<RetentionView>> retention(Desk& desk, const RetentionRules& rules) {
    const auto states = desk.all_states();
    if (!states) return tl::unexpected(states.error());
    std::map<std::string, RetentionView> by_customer;
    for (const auto& state : *states) {
        if (!state.opened || state.erased) continue;
        auto& view = by_customer[state.opened->customer];
        if (const auto* name = state.fact("customer.name")) view.customer = record::shown(*name);
        count_in(view, state, rules);
    }
    const std::string today = day_of(desk.setup().now());
    std::vector<RetentionView> all;
    for (auto& [id, view] : by_customer) {
        view.due = !view.open && view.until < today;
        all.push_back(std::move(view));
    }
    std::stable_sort(all.begin(), all.end(), [](const RetentionView& a, const RetentionView& b) {
        return std::pair{a.open, a.until} < std::pair{b.open, b.until};
    });
    return all;
}

Result<RetentionView> retention_of(Desk& desk, const RetentionRules& rules, const std::string& job) {
    // Refuses a job that is none in its own words.
    if (const auto hand = desk.in_hand(job); !hand) return tl::unexpected(hand.error());
    auto all = retention(desk, rules);
    if (!all) return tl::unexpected(all.error());
    for (auto& view : *all)
        if (std::find(view.jobs.begin(), view.jobs.end(), job) != view.jobs.end()) return std::move(view);
    return refused({"The customer of this job is erased already.", "job " + job, "Nothing needs to be done.", ProblemKind::Refused});
}

bool must_be_kept(const RetentionView& view, std::string_view today) {
    return std::any_of(view.kept.begin(), view.kept.end(),
                       [&](const KeptUntil& kept) { return kept.rule.early == EarlyErasure::Refuse && kept.until >= today; });
}

std::vector<std::string> words_against(const RetentionView& view, std::string_view today) {
    std::vector<std::string> sentences;
    for (const auto early : {EarlyErasure::Refuse, EarlyErasure::Warn})
        for (const auto& kept : view.kept)
            if (kept.rule.early == early && kept.until >= today)
                sentences.push_back(fmt::format("{}: kept until {} (job {}). {} Source: {}.", kept.rule.record, kept.until, kept.job,
                                                kept.rule.why, kept.rule.source));
    if (view.open) sentences.push_back("A job of this house is not finished.");
    return sentences;
}

Result<void> note_early_erasure(Desk& desk, const std::string& job, const std::string& why) {
    if (auto fine = may(desk.setup(), store::Role::Lead, "erase a customer"); !fine) return fine;
    auto words = desk.journal().said_by_house("Erased before the end of its period: " + why);
    if (!words) return tl::unexpected(words.error());
    const std::string by = desk.setup().person ? desk.setup().person->name : "";
    const auto written = desk.journal().append({.wall_ms = desk.setup().now().wall_ms, .customer = "",
                                                .drafts = {{job, record::NoteMade{std::move(*words), "", by}}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
