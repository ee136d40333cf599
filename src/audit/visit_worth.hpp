// How much a visit to a sampled job tells: which interval it makes narrower, from what to what.
#pragma once

#include <cstdint>
#include <string>

#include "audit/findings.hpp"
#include "audit/observations.hpp"

namespace wm::audit {

/// The share of the week's finished jobs in which a visit would find something: at most how many of them (95 %, drawn without
/// return), when the visits up to this one, `visits` from 1 on, found nothing. Empty where nothing can be told.
[[nodiscard]] std::string narrowed_by_clean_visit(std::int64_t finished, std::int64_t visits);

/// The share behind the finding by Wilson's interval (95 %) now, and with one more try that is found in order or wanting. Empty for a gauge, whose readings are no share.
[[nodiscard]] std::string narrowed_by_one_more(const Finding& finding);

/// The jobs of a question of which nobody knows yet: one of so many is known after the visit, by the same interval.
[[nodiscard]] std::string narrowed_by_answer(const Observation& question);

/// The most of `lot` jobs that may be wanting where `visits` of them, drawn without return, were all in order: the largest number
/// for which that has a chance of 5 % or more. Problems: visits outside 1 to the lot.
[[nodiscard]] Result<std::int64_t> most_wanting(std::int64_t lot, std::int64_t visits);

}  // namespace wm::audit
