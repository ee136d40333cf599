// Builders for the tests of keys and seals.
#pragma once

#include <string>

#include "digest/company.hpp"

namespace wm::digest::testing {

/// 2027-01-01 to 2037-01-01.
inline constexpr ValidTime ten_years{1798761600, 2114380800};

inline CompanyKeys some_company(char random = 'a', std::string_view name = "Tarnhollow Sunworks") {
    std::string bytes;
    for (int i = 0; i < 96; ++i) bytes += static_cast<char>(random + i * 7);
    return make_company_keys(bytes, name, ten_years).value();
}

}  // namespace wm::digest::testing
