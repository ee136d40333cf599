// A mail server on the loopback address, behind TLS, that says what it is told to say.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <openssl/pem.h>
#include <openssl/ssl.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <fstream>
#include <memory>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include "digest/openssl_parts.hpp"

namespace wm::fuzz {

/// The replies of a dialogue: a line whose fourth sign is a hyphen goes on in the next (RFC 5321, 4.2.1). No more than 40.
inline std::vector<std::string> replies_in(std::string_view text) {
    std::vector<std::string> replies{""};
    while (!text.empty() && replies.size() <= 40) {
        const auto end = std::min(text.find('\n'), text.size() - 1) + 1;
        const auto line = text.substr(0, end);
        replies.back() += line;
        if (line.size() < 4 || line[3] != '-') replies.emplace_back();
        text.remove_prefix(end);
    }
    return replies;
}

class MailServer {
public:
    explicit MailServer(const std::string& certificate_file) : key_{EVP_EC_gen("P-256")}, certificate_{X509_new()} {
        std::signal(SIGPIPE, SIG_IGN);
        X509* c = certificate_.get();
        X509_set_version(c, X509_VERSION_3);
        ASN1_INTEGER_set(X509_get_serialNumber(c), 11);
        ASN1_TIME_set(X509_getm_notBefore(c), 1'700'000'000);
        ASN1_TIME_set(X509_getm_notAfter(c), 2'500'000'000);
        X509_NAME_add_entry_by_txt(X509_get_subject_name(c), "CN", MBSTRING_UTF8,
                                   digest::openssl::bytes_of(std::string_view{"Tarnhollow Post"}), -1, -1, 0);
        X509_set_issuer_name(c, X509_get_subject_name(c));
        X509_set_pubkey(c, key_.get());
        add(NID_subject_alt_name, "IP:127.0.0.1");
        add(NID_basic_constraints, "critical,CA:TRUE");
        X509_sign(c, key_.get(), EVP_sha256());
        const digest::openssl::Bio pem{BIO_new(BIO_s_mem())};
        PEM_write_bio_X509(pem.get(), c);
        char* bytes = nullptr;
        const long size = BIO_get_mem_data(pem.get(), &bytes);
        std::ofstream{certificate_file, std::ios::binary}.write(bytes, size);

        context_ = SSL_CTX_new(TLS_server_method());
        SSL_CTX_use_certificate(context_, c);
        SSL_CTX_use_PrivateKey(context_, key_.get());
        listener_ = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
        sockaddr_in at{};
        at.sin_family = AF_INET;
        at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        socklen_t length = sizeof at;
        static_cast<void>(bind(listener_, reinterpret_cast<sockaddr*>(&at), length));
        static_cast<void>(listen(listener_, 4));
        static_cast<void>(getsockname(listener_, reinterpret_cast<sockaddr*>(&at), &length));
        port_ = ntohs(at.sin_port);
    }
    ~MailServer() {
        end();
        close(listener_);
        SSL_CTX_free(context_);
    }
    MailServer(const MailServer&) = delete;
    MailServer& operator=(const MailServer&) = delete;

    [[nodiscard]] std::string url() const { return "smtps://127.0.0.1:" + std::to_string(port_); }

    /// Answers the next caller so.
    void say(const std::string& dialogue) {
        end();
        heard_.clear();
        thread_ = std::thread{[this, dialogue] { answer(replies_in(dialogue)); }};
    }
    /// All that the caller said, once it has gone.
    [[nodiscard]] const std::string& heard() {
        end();
        return heard_;
    }

private:
    void end() {
        if (thread_.joinable()) thread_.join();
    }

    // Whoever says nothing for so long is waiting for more of an answer: then the next one comes.
    void listen_to(SSL* caller) {
        for (int quiet = 0; quiet < 3;) {
            char piece[4096];
            const int got = SSL_read(caller, piece, sizeof piece);
            if (got > 0) {
                heard_.append(piece, static_cast<std::size_t>(got));
                quiet = 0;
            } else if (SSL_get_error(caller, got) == SSL_ERROR_WANT_READ) {
                ++quiet;
            } else {
                return;
            }
            const bool in_message = heard_.find("\r\nDATA\r\n") != std::string::npos;
            if (heard_.ends_with(in_message ? "\r\n.\r\n" : "\r\n")) return;
        }
    }

    void answer(const std::vector<std::string>& replies) {
        const int socket = accept(listener_, nullptr, nullptr);
        if (socket < 0) return;
        timeval patience{.tv_sec = 2, .tv_usec = 0};
        setsockopt(socket, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
        SSL* caller = SSL_new(context_);
        SSL_set_fd(caller, socket);
        if (SSL_accept(caller) == 1) {
            patience = {.tv_sec = 0, .tv_usec = 5'000};
            setsockopt(socket, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
            for (const auto& reply : replies) {
                if (!reply.empty() && SSL_write(caller, reply.data(), static_cast<int>(reply.size())) <= 0) break;
                listen_to(caller);
            }
            SSL_shutdown(caller);
        }
        SSL_free(caller);
        close(socket);
    }

    void add(int nid, const char* value) {
        X509V3_CTX context;
        X509V3_set_ctx(&context, certificate_.get(), certificate_.get(), nullptr, nullptr, 0);
        X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, nid, value);
        X509_add_ext(certificate_.get(), extension, -1);
        X509_EXTENSION_free(extension);
    }

    digest::openssl::Key key_;
    digest::openssl::Certificate certificate_;
    SSL_CTX* context_ = nullptr;
    int listener_ = -1;
    int port_ = 0;
    std::thread thread_;
    std::string heard_;
};

}  // namespace wm::fuzz
