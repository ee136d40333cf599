#include "store/look_through.hpp"

#include <fmt/format.h>

#include <future>
#include <iterator>
#include <optional>
#include <utility>

#include "record/in_parts.hpp"
#include "store/inside.hpp"

namespace wm::store {
namespace {

using record::Written;

/// Rows as they were read, their texts one after the other.
struct Batch {
    struct Row {
        std::size_t from = 0;  ///< in `bytes`
        std::size_t device = 0, prev = 0, hash = 0, time = 0, job = 0, body = 0;  ///< sizes
        std::int64_t seq = 0;
    };
    std::string bytes;
    std::vector<Row> rows;
};

constexpr std::size_t rows_of_batch = 4096;

/// What became of one row.
struct Seen {
    record::Link link;  ///< points into Outcome::texts, but for the device
    bool is_sound = false;
    std::optional<Written> kept;
    std::string damaged;
};

struct Outcome {
    std::unique_ptr<std::string> texts;
    std::vector<Seen> rows;
};

bool is_worth_keeping(Written& written) {
    const auto& body = written.entry.body;
    return std::holds_alternative<record::DeviceStarted>(body) || std::holds_alternative<record::DeviceRevoked>(body) ||
           std::holds_alternative<record::JobOpened>(body) ||
           std::holds_alternative<record::TimeSourceChanged>(body) || std::holds_alternative<record::EntriesLost>(body) || !record::personal_in(written.entry.body).empty() ||
           !record::attached_in(body).empty();
}

Seen seen(const Batch& batch, const Batch::Row& row) {
    std::string_view rest{batch.bytes};
    rest.remove_prefix(row.from);
    const auto next = [&](std::size_t size) {
        const auto text = rest.substr(0, size);
        rest.remove_prefix(size);
        return text;
    };
    const auto device = next(row.device), prev = next(row.prev), hash = next(row.hash), time = next(row.time), job = next(row.job);
    const auto body = next(row.body);
    auto written = checked_row({std::string{device}, row.seq, std::string{prev}, std::string{time}, std::string{job}, {}},
                               std::string{hash}, body);
    Seen each;
    if (!written) {
        each.damaged = fmt::format("{}: {}", written.error().where, written.error().what);
        return each;
    }
    each.is_sound = true;
    each.link = {{}, row.seq, prev, hash, time, row.seq == 1 && record::starts_its_device(written->entry),
                 std::holds_alternative<record::Unknown>(written->entry.body)};
    if (is_worth_keeping(*written)) each.kept = std::move(*written);
    return each;
}

Outcome checked(const Batch& batch) {
    Outcome outcome{std::make_unique<std::string>(), std::vector<Seen>(batch.rows.size())};
    record::in_parts(batch.rows.size(), [&](std::size_t first, std::size_t end) {
        for (std::size_t i = first; i < end; ++i) outcome.rows[i] = seen(batch, batch.rows[i]);
    });
    // The bodies go; what links point at is put together.
    std::size_t size = 0;
    for (const auto& row : batch.rows) size += row.prev + row.hash + row.time;
    outcome.texts->reserve(size);
    for (auto& row : outcome.rows)
        for (std::string_view* text : {&row.link.prev, &row.link.hash, &row.link.time}) {
            const std::size_t from = outcome.texts->size();
            outcome.texts->append(*text);
            *text = std::string_view{*outcome.texts}.substr(from);
        }
    return outcome;
}

class Gathering {
public:
    void take(const Batch& batch, Outcome outcome) {
        for (std::size_t i = 0; i < outcome.rows.size(); ++i) {
            Seen& row = outcome.rows[i];
            if (!row.is_sound) {
                all_.damaged.push_back(std::move(row.damaged));
                continue;
            }
            row.link.device = device(std::string_view{batch.bytes}.substr(batch.rows[i].from, batch.rows[i].device));
            all_.links.push_back(row.link);
            if (row.kept) all_.kept.push_back(std::move(*row.kept));
        }
        all_.texts.push_back(std::move(outcome.texts));
    }
    LookedThrough all() && { return std::move(all_); }
    void tell(std::string damaged) { all_.damaged.push_back(std::move(damaged)); }

private:
    std::string_view device(std::string_view name) {
        if (name == last_) return last_;
        auto found = all_.devices.find(name);
        if (found == all_.devices.end()) found = all_.devices.emplace(name).first;
        return last_ = *found;
    }

    LookedThrough all_;
    std::string_view last_;
};

}  // namespace

Result<LookedThrough> look_through(const Database& database) {
    auto select = database.prepared("SELECT device, seq, prev, hash, time, job, body FROM entry");
    if (!select) return refused(select.error());
    Gathering look;
    Batch read, before;
    std::future<Outcome> working;  // on `before`, while `read` is being filled
    const auto hand_on = [&] {
        if (working.valid()) look.take(before, working.get());
        before = std::exchange(read, {});
        try {
            working = std::async(std::launch::async, [&before] { return checked(before); });
        } catch (const std::system_error&) {
            look.take(before, checked(before));  // no thread is to be had
        }
    };
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        auto& place = read.rows.emplace_back();
        place.from = read.bytes.size();
        place.seq = select->number(1);
        const auto put = [&](int column, std::size_t& size) {
            const auto text = select->view(column);
            size = text.size();
            read.bytes += text;
        };
        put(0, place.device);
        put(2, place.prev);
        put(3, place.hash);
        put(4, place.time);
        put(5, place.job);
        put(6, place.body);
        if (read.rows.size() == rows_of_batch) hand_on();
    }
    hand_on();
    if (working.valid()) look.take(before, working.get());
    if (!row) {
        // A page in the middle is torn: what was read so far is sound and is looked at.
        if (database.trouble() != Trouble::FileBroken) return refused(row.error());
        look.tell(fmt::format("{}: {}", row.error().where, row.error().what));
    }
    return std::move(look).all();
}

}  // namespace wm::store
