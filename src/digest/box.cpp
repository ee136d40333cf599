#include "digest/box.hpp"

#include <openssl/err.h>
#include <openssl/kdf.h>

#include <fmt/format.h>

#include "digest/openssl_parts.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

int size_of(std::string_view bytes) {
    return static_cast<int>(bytes.size());
}

tl::unexpected<Problem> not_opened(std::string_view where) {
    return refused({.what = "What lies locked here was changed, or the key is not the one it was "
                            "locked with.",
                    .where = std::string{where},
                    .what_to_do = "Check the passphrase, or take the file from a copy.",
                    .kind = ProblemKind::Unreadable});
}

}  // namespace

Result<std::string> lock(const BoxKey& key, std::string_view nonce, std::string_view plain) {
    if (key.key.size() != box_key_bytes || nonce.size() != box_nonce_bytes ||
        plain.size() > 0x7fff0000U) {
        return library_problem("A box needs a key of 32 bytes and a nonce of 12.", key.purpose);
    }
    const CipherContext context{EVP_CIPHER_CTX_new()};
    std::string cipher(plain.size(), '\0');
    std::string tag(box_tag_bytes, '\0');
    int length = 0;
    const bool ok =
        EVP_EncryptInit_ex2(context.get(), EVP_aes_256_gcm(), bytes_of(key.key), bytes_of(nonce),
                            nullptr) == 1 &&
        EVP_EncryptUpdate(context.get(), nullptr, &length, bytes_of(key.purpose),
                          size_of(key.purpose)) == 1 &&
        EVP_EncryptUpdate(context.get(), bytes_of(cipher), &length, bytes_of(plain),
                          size_of(plain)) == 1 &&
        EVP_EncryptFinal_ex(context.get(), nullptr, &length) == 1 &&
        EVP_CIPHER_CTX_ctrl(context.get(), EVP_CTRL_GCM_GET_TAG, size_of(tag), tag.data()) == 1;
    if (!ok) return library_problem("The box could not be locked.", key.purpose);
    return fmt::format("{}{}{}", nonce, cipher, tag);
}

Result<std::string> unlock(const BoxKey& key, std::string_view box, std::string_view where) {
    if (key.key.size() != box_key_bytes || box.size() < box_nonce_bytes + box_tag_bytes ||
        box.size() > 0x7fff0000U) {
        return not_opened(where);
    }
    const std::string_view nonce = box.substr(0, box_nonce_bytes);
    const std::string_view cipher =
        box.substr(box_nonce_bytes, box.size() - box_nonce_bytes - box_tag_bytes);
    std::string tag{box.substr(box.size() - box_tag_bytes)};
    const CipherContext context{EVP_CIPHER_CTX_new()};
    std::string plain(cipher.size(), '\0');
    int length = 0;
    const bool ok =
        EVP_DecryptInit_ex2(context.get(), EVP_aes_256_gcm(), bytes_of(key.key), bytes_of(nonce),
                            nullptr) == 1 &&
        EVP_DecryptUpdate(context.get(), nullptr, &length, bytes_of(key.purpose),
                          size_of(key.purpose)) == 1 &&
        EVP_DecryptUpdate(context.get(), bytes_of(plain), &length, bytes_of(cipher),
                          size_of(cipher)) == 1 &&
        EVP_CIPHER_CTX_ctrl(context.get(), EVP_CTRL_GCM_SET_TAG, size_of(tag), tag.data()) == 1 &&
        EVP_DecryptFinal_ex(context.get(), nullptr, &length) == 1;
    ERR_clear_error();
    if (!ok) return not_opened(where);
    return plain;
}

Result<std::string> key_of_passphrase(std::string_view passphrase, std::string_view salt) {
    constexpr std::uint64_t rounds = 1U << 15;
    constexpr std::uint64_t block = 8;
    constexpr std::uint64_t lanes = 1;
    constexpr std::uint64_t most_memory = 64U << 20;
    std::string key(box_key_bytes, '\0');
    if (salt.size() < 16 ||
        EVP_PBE_scrypt(passphrase.data(), passphrase.size(), bytes_of(salt), salt.size(), rounds,
                       block, lanes, most_memory, bytes_of(key), key.size()) != 1) {
        return library_problem("No key could be made of the passphrase.", "passphrase");
    }
    return key;
}

}  // namespace wm::digest
