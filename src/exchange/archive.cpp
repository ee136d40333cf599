#include "exchange/archive.hpp"

#include <archive.h>
#include <archive_entry.h>
#include <fmt/format.h>

#include <memory>
#include <set>

namespace wm::exchange {
namespace {

struct FreeWriter {
    void operator()(archive* a) const { archive_write_free(a); }
};
struct FreeReader {
    void operator()(archive* a) const { archive_read_free(a); }
};
struct FreeEntry {
    void operator()(archive_entry* e) const { archive_entry_free(e); }
};
using Writer = std::unique_ptr<archive, FreeWriter>;
using Reader = std::unique_ptr<archive, FreeReader>;
using Header = std::unique_ptr<archive_entry, FreeEntry>;

la_ssize_t append(archive*, void* to, const void* bytes, std::size_t size) {
    static_cast<std::string*>(to)->append(static_cast<const char*>(bytes), size);
    return static_cast<la_ssize_t>(size);
}

tl::unexpected<Problem> not_a_bundle(std::string what, std::string_view where) {
    return refused({.what = std::move(what),
                    .where = std::string{where},
                    .what_to_do =
                        "Nothing was taken. Choose a bundle made by this program, or have it "
                        "carried over again.",
                    .kind = ProblemKind::Unreadable});
}

}  // namespace

Result<std::string> packed(const std::vector<Part>& parts) {
    std::string bytes;
    const Writer writer{archive_write_new()};
    bool ok = archive_write_set_format_ustar(writer.get()) == ARCHIVE_OK &&
              archive_write_set_bytes_in_last_block(writer.get(), 1) == ARCHIVE_OK &&
              archive_write_open(writer.get(), &bytes, nullptr, &append, nullptr) == ARCHIVE_OK;
    for (const Part& part : parts) {
        const Header header{archive_entry_new()};
        archive_entry_set_pathname(header.get(), part.name.c_str());
        archive_entry_set_size(header.get(), static_cast<la_int64_t>(part.bytes.size()));
        archive_entry_set_filetype(header.get(), AE_IFREG);
        archive_entry_set_perm(header.get(), 0600);
        archive_entry_set_mtime(header.get(), 0, 0);
        ok = ok && archive_write_header(writer.get(), header.get()) == ARCHIVE_OK &&
             archive_write_data(writer.get(), part.bytes.data(), part.bytes.size()) ==
                 static_cast<la_ssize_t>(part.bytes.size());
    }
    ok = ok && archive_write_close(writer.get()) == ARCHIVE_OK;
    if (!ok) {
        const char* cause = archive_error_string(writer.get());
        return refused({.what = fmt::format("The bundle could not be put together ({}).",
                                            cause == nullptr ? "no reason given" : cause),
                        .where = "bundle",
                        .what_to_do = "Make room in memory, or pack a shorter stretch.",
                        .kind = ProblemKind::NotStored});
    }
    return bytes;
}

Result<std::vector<Part>> unpacked(std::string_view bytes, std::string_view where) {
    const Reader reader{archive_read_new()};
    // No filter is switched on: nothing here can unfold to more than it is.
    if (archive_read_support_format_tar(reader.get()) != ARCHIVE_OK ||
        archive_read_open_memory(reader.get(), bytes.data(), bytes.size()) != ARCHIVE_OK) {
        return not_a_bundle("This is not a bundle.", where);
    }
    std::vector<Part> parts;
    std::set<std::string> names;
    archive_entry* entry = nullptr;
    int code = archive_read_next_header(reader.get(), &entry);
    for (; code == ARCHIVE_OK; code = archive_read_next_header(reader.get(), &entry)) {
        const char* name = archive_entry_pathname(entry);
        const auto size = archive_entry_size(entry);
        if (name == nullptr || archive_entry_filetype(entry) != AE_IFREG || size < 0 ||
            static_cast<std::size_t>(size) > bytes.size() || !names.insert(name).second) {
            return not_a_bundle("The bundle holds something that does not belong into one.", where);
        }
        Part part{name, std::string(static_cast<std::size_t>(size), '\0')};
        if (archive_read_data(reader.get(), part.bytes.data(), part.bytes.size()) != size) {
            return not_a_bundle("The bundle is cut short.", where);
        }
        parts.push_back(std::move(part));
    }
    if (code != ARCHIVE_EOF || parts.empty()) return not_a_bundle("This is not a bundle.", where);
    return parts;
}

}  // namespace wm::exchange
