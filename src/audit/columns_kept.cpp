// Columns as bytes: the columns as they lie in memory, texts with their length before them.
#include "audit/columns.hpp"
#include "audit/kept_bytes.hpp"

namespace wm::audit {

namespace {

using kept::all_below;
using kept::are_starts;
using kept::order_of_bytes;
using kept::Reader;
using kept::Writer;

void pass_number(Writer& way, const std::optional<double>& number) { way.all(number.has_value(), number.value_or(0.0)); }
void pass_number(Reader& way, std::optional<double>& number) {
    bool known = false;
    double value = 0.0;
    way.all(known, value);
    number = known ? std::optional{value} : std::nullopt;
}

// The fields of each row, named once for both ways.
template <class Way, class Facts>
void pass_facts(Way& way, Facts& facts) {
    way.all(facts.handed_over, facts.handed_by, facts.pipe, facts.controller);
    pass_number(way, facts.loop_run_m);
    pass_number(way, facts.coldest_c);
    pass_number(way, facts.air_c);
}
template <class Way, class Row>
void pass_card(Way& way, Row& row) {
    way.all(row.job, row.crew, row.street, row.roof, row.system, row.vulnerable, row.day, row.week, row.kind, row.frost_class, row.after, row.made_after);
    pass_facts(way, row.visit);
}
template <class Way, class Row>
void pass_codes(Way& way, Row& row) {
    way.all(row.crew, row.street, row.roof, row.system, row.kind, row.week, row.vulnerable, row.day, row.first_day, row.last_day, row.failed);
}
template <class Way, class Row>
void pass_open(Way& way, Row& row) { way.all(row.job, row.check, row.owner, row.what, row.since); }
template <class Way, class Row>
void pass_deferral(Way& way, Row& row) { way.all(row.job, row.check, row.owner, row.since, row.until, row.closed); }
template <class Way, class Row>
void pass_gauge(Way& way, Row& row) { way.all(row.job, row.check, row.instrument, row.kpa, row.day, row.calibrated); }
template <class Way, class Row>
void pass_trace(Way& way, Row& row) { way.all(row.job, row.entries, row.hasty); }
template <class Way, class Row>
void pass_complaint(Way& way, Row& row) { way.all(row.job, row.complaint, row.symptom, row.day, row.air, row.frost, row.closed, row.cause); }
template <class Way, class Rows>
void pass_columns(Way& way, Rows& results, auto& uses) {
    way.all(results.check, results.marks, results.outcome, results.day, results.seconds);
    way.all(uses.check, uses.place, uses.instrument, uses.text, uses.day, uses.calibrated, uses.evidence);
}
template <class Way, class All>
void pass_names(Way& way, All& all) {
    way.all(all.check, all.outcome, all.place, all.instrument, all.text, all.crew, all.street, all.roof, all.system, all.kind, all.week,
            all.material, all.batch);
}

template <class Row, class Write>
void put_rows(Writer& writer, const std::vector<Row>& rows, Write write) {
    writer.put(static_cast<std::uint64_t>(rows.size()));
    for (const auto& row : rows) write(writer, row);
}

template <class Row, class Read>
void get_rows(Reader& reader, std::vector<Row>& rows, Read read) {
    const auto count = reader.count(1);
    for (std::size_t i = 0; i < count && !reader.is_torn(); ++i) read(reader, rows.emplace_back());
}

template <class Row>
bool stand_by_job(const std::vector<Row>& rows, std::size_t jobs) {
    std::size_t before = 0;
    for (const auto& row : rows) {
        if (row.job < before || row.job >= jobs) return false;
        before = row.job;
    }
    return true;
}

}  // namespace

/// Whether what was read can be asked without looking twice.
class KeptReader {
public:
    static bool is_sound(const Columns& c) {
        const auto& names = c.names_;
        const std::size_t jobs = c.rest_.jobs.size();
        const std::size_t results = c.results_.check.size();
        const std::size_t uses = c.uses_.check.size();
        for (std::size_t i = 1; i < jobs; ++i)
            if (c.rest_.jobs[i - 1].job >= c.rest_.jobs[i].job) return false;
        for (const auto& job : c.codes_)
            if (job.crew >= names.crew.size() || job.street >= names.street.size() || job.roof >= names.roof.size() ||
                job.system >= names.system.size() || job.kind >= names.kind.size() || job.week >= names.week.size())
                return false;
        for (const auto& batches : c.batches_)
            for (const auto& [material, batch] : batches)
                if (material >= names.material.size() || batch >= names.batch.size()) return false;
        return c.codes_.size() == jobs && c.batches_.size() == jobs && are_starts(c.first_result_, jobs, results) &&
               are_starts(c.first_use_, jobs, uses) && all_below(c.results_.check, results, names.check) &&
               all_below(c.results_.outcome, results, names.outcome) && c.results_.marks.size() == results &&
               c.results_.day.size() == results && c.results_.seconds.size() == results && all_below(c.uses_.check, uses, names.check) &&
               all_below(c.uses_.place, uses, names.place) && all_below(c.uses_.instrument, uses, names.instrument) &&
               all_below(c.uses_.text, uses, names.text) && c.uses_.day.size() == uses && c.uses_.calibrated.size() == uses &&
               c.uses_.evidence.size() == uses && stand_by_job(c.rest_.open, jobs) && stand_by_job(c.rest_.deferrals, jobs) &&
               stand_by_job(c.rest_.gauges, jobs) && stand_by_job(c.rest_.traces, jobs) &&
               stand_by_job(c.rest_.complaints, jobs);
    }
};

std::string Columns::kept() const {
    Writer writer;
    writer.put(order_of_bytes);
    pass_names(writer, names_);
    pass_columns(writer, results_, uses_);
    writer.all(first_result_, first_use_);
    put_rows(writer, codes_, [](Writer& way, const JobCodes& row) { pass_codes(way, row); });
    put_rows(writer, batches_, [](Writer& way, const std::vector<std::pair<Code, Code>>& row) {
        way.put(static_cast<std::uint64_t>(row.size()));
        for (const auto& [material, batch] : row) way.all(material, batch);
    });
    put_rows(writer, rest_.jobs, [](Writer& way, const JobCard& row) { pass_card(way, row); });
    put_rows(writer, rest_.open, [](Writer& way, const OpenItem& row) { pass_open(way, row); });
    put_rows(writer, rest_.deferrals, [](Writer& way, const DeferralRow& row) { pass_deferral(way, row); });
    put_rows(writer, rest_.gauges, [](Writer& way, const GaugeReading& row) { pass_gauge(way, row); });
    put_rows(writer, rest_.complaints, [](Writer& way, const ComplaintRow& row) { pass_complaint(way, row); });
    put_rows(writer, rest_.traces, [](Writer& way, const JobTrace& row) {
        pass_trace(way, row);
        put_rows(way, row.alike, [](Writer& inner, const std::string& check) { inner.put(check); });
        put_rows(way, row.photos, [](Writer& inner, const PhotoUse& photo) { inner.all(photo.check, photo.fingerprint); });
    });
    return writer.done();
}

std::optional<Columns> Columns::read_kept(std::string_view bytes) {
    Columns all;
    Reader reader{bytes};
    std::uint32_t order = 0;
    reader.get(order);
    if (order != order_of_bytes) return std::nullopt;
    pass_names(reader, all.names_);
    pass_columns(reader, all.results_, all.uses_);
    reader.all(all.first_result_, all.first_use_);
    get_rows(reader, all.codes_, [](Reader& way, JobCodes& row) { pass_codes(way, row); });
    get_rows(reader, all.batches_, [](Reader& way, std::vector<std::pair<Code, Code>>& row) {
        const auto count = way.count(2 * sizeof(Code));
        for (std::size_t i = 0; i < count; ++i) {
            auto& [material, batch] = row.emplace_back();
            way.all(material, batch);
        }
    });
    get_rows(reader, all.rest_.jobs, [](Reader& way, JobCard& row) { pass_card(way, row); });
    get_rows(reader, all.rest_.open, [](Reader& way, OpenItem& row) { pass_open(way, row); });
    get_rows(reader, all.rest_.deferrals, [](Reader& way, DeferralRow& row) { pass_deferral(way, row); });
    get_rows(reader, all.rest_.gauges, [](Reader& way, GaugeReading& row) { pass_gauge(way, row); });
    get_rows(reader, all.rest_.complaints, [](Reader& way, ComplaintRow& row) { pass_complaint(way, row); });
    get_rows(reader, all.rest_.traces, [](Reader& way, JobTrace& row) {
        pass_trace(way, row);
        get_rows(way, row.alike, [](Reader& inner, std::string& check) { inner.get(check); });
        get_rows(way, row.photos, [](Reader& inner, PhotoUse& photo) { inner.all(photo.check, photo.fingerprint); });
    });
    if (reader.is_torn() || !reader.is_at_end() || !KeptReader::is_sound(all)) return std::nullopt;
    all.by_number_ = stand_by_number(all.rest_.jobs);
    // The batches stand as numbers; the cards name them too.
    for (std::size_t job = 0; job < all.batches_.size(); ++job)
        for (const auto& [material, batch] : all.batches_[job])
            all.rest_.jobs[job].batches.emplace(all.names_.material.text(material), all.names_.batch.text(batch));
    return all;
}

}  // namespace wm::audit
