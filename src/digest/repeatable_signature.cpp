#include "digest/repeatable_signature.hpp"

#include <openssl/core_names.h>
#include <openssl/err.h>

#include <array>
#include <optional>

#include "digest/der.hpp"
#include "digest/hash.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

using Scratch = std::unique_ptr<BN_CTX, Release<BN_CTX_free>>;

constexpr int scalar_bytes = 32;

Number number_of(std::string_view bytes) {
    return Number{BN_bin2bn(bytes_of(bytes), static_cast<int>(bytes.size()), nullptr)};
}

std::string bytes_of_number(const BIGNUM* number) {
    std::string bytes(scalar_bytes, '\0');
    BN_bn2binpad(number, bytes_of(bytes), scalar_bytes);
    return bytes;
}

/// The stream of nonces of RFC 6979: K and V as there.
class Nonces {
public:
    Nonces(std::string_view secret, std::string_view digest) {
        for (const char step : {'\0', '\1'}) {
            std::string seed = v_ + step;
            seed.append(secret).append(digest);
            k_ = hmac_sha256(k_, seed);
            v_ = hmac_sha256(k_, v_);
        }
    }

    Number next() {
        if (used_) {
            k_ = hmac_sha256(k_, v_ + '\0');
            v_ = hmac_sha256(k_, v_);
        }
        used_ = true;
        v_ = hmac_sha256(k_, v_);
        return number_of(v_);
    }

private:
    std::string k_ = std::string(scalar_bytes, '\0');
    std::string v_ = std::string(scalar_bytes, '\1');
    bool used_ = false;
};

/// One try with one nonce; nullopt when it does not do, which happens about once in 2^32.
std::optional<std::string> signed_with(BIGNUM* k, const BIGNUM* secret, const BIGNUM* digest,
                                       const EC_GROUP* group, BN_CTX* scratch) {
    const BIGNUM* order = EC_GROUP_get0_order(group);
    if (BN_is_zero(k) || BN_cmp(k, order) >= 0) return std::nullopt;
    BN_set_flags(k, BN_FLG_CONSTTIME);
    const Point point{EC_POINT_new(group)};
    const Number x{BN_new()};
    const Number r{BN_new()};
    const Number s{BN_new()};
    const Number inverse{BN_new()};
    const bool ok =
        EC_POINT_mul(group, point.get(), k, nullptr, nullptr, scratch) == 1 &&
        EC_POINT_get_affine_coordinates(group, point.get(), x.get(), nullptr, scratch) == 1 &&
        BN_nnmod(r.get(), x.get(), order, scratch) == 1 &&
        BN_mod_inverse(inverse.get(), k, order, scratch) != nullptr &&
        BN_mod_mul(s.get(), r.get(), secret, order, scratch) == 1 &&
        BN_mod_add(s.get(), s.get(), digest, order, scratch) == 1 &&
        BN_mod_mul(s.get(), s.get(), inverse.get(), order, scratch) == 1;
    if (!ok || BN_is_zero(r.get()) || BN_is_zero(s.get())) return std::nullopt;
    return der(tag::sequence, positive_integer(bytes_of_number(r.get())) +
                                  positive_integer(bytes_of_number(s.get())));
}

}  // namespace

std::string repeatable_signature(EVP_PKEY* key, std::string_view message) {
    std::array<char, 64> group_name{};
    BIGNUM* raw = nullptr;
    if (EVP_PKEY_get_group_name(key, group_name.data(), group_name.size(), nullptr) != 1 ||
        std::string_view{group_name.data()} != "prime256v1" ||
        EVP_PKEY_get_bn_param(key, OSSL_PKEY_PARAM_PRIV_KEY, &raw) != 1) {
        ERR_clear_error();
        return {};
    }
    const Number secret{raw};
    BN_set_flags(secret.get(), BN_FLG_CONSTTIME);
    const Scratch scratch{BN_CTX_secure_new()};
    const Group group{EC_GROUP_new_by_curve_name(NID_X9_62_prime256v1)};
    const Number digest = number_of(sha256(message));
    BN_nnmod(digest.get(), digest.get(), EC_GROUP_get0_order(group.get()), scratch.get());
    Nonces nonces{bytes_of_number(secret.get()), bytes_of_number(digest.get())};
    for (int tries = 0; tries < 100; ++tries) {
        const Number k = nonces.next();
        auto signature =
            signed_with(k.get(), secret.get(), digest.get(), group.get(), scratch.get());
        if (signature) return std::move(*signature);
    }
    return {};
}

}  // namespace wm::digest
