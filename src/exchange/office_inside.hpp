// What an OfficeStore is made of. For the sources of this room.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "exchange/contents.hpp"
#include "exchange/office_connection.hpp"
#include "exchange/office_store.hpp"
#include "store/rows.hpp"

namespace wm::exchange {

struct OfficeStore::Inside {
    Connection connection;
    std::string role;
    bool is_crew = false;  ///< a member of the crews and of nothing above
    int steps_done = 0;

    // office_taking.cpp
    [[nodiscard]] Result<OfficeTaken> take_once(const Contents& contents, const std::string& sha256, const OfficeTakeRequest& request,
                                                std::set<std::string>& jobs);

    // office_reading.cpp
    [[nodiscard]] Result<std::vector<record::Head>> heads();
    /// Entries of the stream that concern every job.
    [[nodiscard]] Result<store::Entries> stream_for_jobs();
    [[nodiscard]] Result<store::Entries> entries(const std::string& condition, const Values& values);
    [[nodiscard]] Result<void> fill_in(std::vector<record::Written>& entries, const store::Keys& keys, store::WordDoubts* doubts);
    [[nodiscard]] Result<std::vector<std::string>> gaps();

    /// Device → role of its crew, as far as the role may see.
    [[nodiscard]] Result<std::map<std::string, std::string>> crews();
};

/// "($1,$2),($3,$4)" for so many rows of so many columns.
[[nodiscard]] std::string places_for(std::size_t rows, std::size_t columns);

}  // namespace wm::exchange
