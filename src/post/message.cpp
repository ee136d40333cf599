#include "post/message.hpp"

#include <fmt/format.h>
#include <gmime/gmime.h>

#include <memory>
#include <mutex>

#include "post/address.hpp"

namespace wm::post {

namespace {

struct Unref {
    void operator()(void* object) const { g_object_unref(object); }
};
template <class T>
using Owned = std::unique_ptr<T, Unref>;

void start_library() {
    static std::once_flag once;
    std::call_once(once, [] { g_mime_init(); });
}

Owned<GMimeStream> stream_of(const std::string& bytes) {
    return Owned<GMimeStream>{g_mime_stream_mem_new_with_buffer(bytes.data(), bytes.size())};
}

Owned<GMimePart> file_part(const Attachment& file) {
    const auto slash = file.mime_type.find('/');
    Owned<GMimePart> part{g_mime_part_new_with_type(
        file.mime_type.substr(0, slash).c_str(),
        slash == std::string::npos ? "octet-stream" : file.mime_type.substr(slash + 1).c_str())};
    const auto stream = stream_of(file.bytes);
    Owned<GMimeDataWrapper> content{
        g_mime_data_wrapper_new_with_stream(stream.get(), GMIME_CONTENT_ENCODING_DEFAULT)};
    g_mime_part_set_content(part.get(), content.get());
    g_mime_part_set_content_encoding(part.get(), GMIME_CONTENT_ENCODING_BASE64);
    g_mime_part_set_filename(part.get(), file_name(file.name).c_str());
    g_mime_object_set_disposition(GMIME_OBJECT(part.get()), GMIME_DISPOSITION_ATTACHMENT);
    return part;
}

Owned<GMimePart> text_part(const std::string& text) {
    Owned<GMimePart> part{g_mime_part_new_with_type("text", "plain")};
    g_mime_object_set_content_type_parameter(GMIME_OBJECT(part.get()), "charset", "utf-8");
    const auto stream = stream_of(text);
    Owned<GMimeDataWrapper> content{
        g_mime_data_wrapper_new_with_stream(stream.get(), GMIME_CONTENT_ENCODING_DEFAULT)};
    g_mime_part_set_content(part.get(), content.get());
    g_mime_part_set_content_encoding(part.get(), GMIME_CONTENT_ENCODING_QUOTEDPRINTABLE);
    return part;
}

Problem bad_id(const std::string& id) {
    return {fmt::format("\"{}\" cannot name a message.", header_text(id)), "the outbox",
            "This is a fault of the tool; report it with the job number.", ProblemKind::NotStored};
}

}  // namespace

Result<std::string> write_message(const Message& message) {
    start_library();
    const auto from = read_address(message.from, "the sender of the message");
    if (!from) return tl::unexpected(from.error());
    if (message.to.empty())
        return refused({"The message has no recipient.", "the outbox",
                        "Enter the customer's mail address, or save the message as a file.",
                        ProblemKind::NotStored});
    for (const auto& to : message.to)
        if (const auto address = read_address(to, "the recipient of the message"); !address)
            return tl::unexpected(address.error());
    if (!read_address(message.id, "the message id")) return refused(bad_id(message.id));

    Owned<GMimeMessage> mail{g_mime_message_new(TRUE)};
    g_mime_message_add_mailbox(mail.get(), GMIME_ADDRESS_TYPE_FROM,
                               header_text(message.from_name).c_str(), from->c_str());
    for (std::size_t i = 0; i < message.to.size(); ++i)
        g_mime_message_add_mailbox(mail.get(), GMIME_ADDRESS_TYPE_TO,
                                   i == 0 ? header_text(message.to_name).c_str() : nullptr,
                                   message.to[i].c_str());
    g_mime_message_set_subject(mail.get(), header_text(message.subject).c_str(), "utf-8");
    std::unique_ptr<GTimeZone, decltype(&g_time_zone_unref)> zone{
        g_time_zone_new_offset(message.zone_minutes * 60), &g_time_zone_unref};
    std::unique_ptr<GDateTime, decltype(&g_date_time_unref)> utc{
        g_date_time_new_from_unix_utc(message.unix_seconds), &g_date_time_unref};
    std::unique_ptr<GDateTime, decltype(&g_date_time_unref)> date{
        g_date_time_to_timezone(utc.get(), zone.get()), &g_date_time_unref};
    g_mime_message_set_date(mail.get(), date.get());
    g_mime_message_set_message_id(mail.get(), message.id.c_str());

    Owned<GMimeMultipart> whole{g_mime_multipart_new_with_subtype("mixed")};
    g_mime_multipart_set_boundary(whole.get(), ("=_part_" + file_name(message.id)).substr(0, 60).c_str());
    const auto text = text_part(message.text);
    g_mime_multipart_add(whole.get(), GMIME_OBJECT(text.get()));
    for (const auto& file : message.attachments) {
        const auto part = file_part(file);
        g_mime_multipart_add(whole.get(), GMIME_OBJECT(part.get()));
    }
    g_mime_message_set_mime_part(mail.get(), GMIME_OBJECT(whole.get()));

    std::unique_ptr<GMimeFormatOptions, decltype(&g_mime_format_options_free)> format{
        g_mime_format_options_new(), &g_mime_format_options_free};
    g_mime_format_options_set_newline_format(format.get(), GMIME_NEWLINE_FORMAT_DOS);
    Owned<GMimeStream> out{g_mime_stream_mem_new()};
    g_mime_object_write_to_stream(GMIME_OBJECT(mail.get()), format.get(), out.get());
    const GByteArray* bytes = g_mime_stream_mem_get_byte_array(GMIME_STREAM_MEM(out.get()));
    return std::string{reinterpret_cast<const char*>(bytes->data), bytes->len};
}

}  // namespace wm::post
