#include "digest/pin.hpp"

#include <sodium.h>

namespace wm::digest {

Result<std::string> key_of_pin(std::string_view pin, std::string_view salt, const PinCost& cost) {
    const auto no_key = [](std::string what) {
        return refused({.what = std::move(what),
                        .where = "the PIN",
                        .what_to_do = "Close other programs and try again; if it stays so, restore the "
                                      "folder keys from a backup.",
                        .kind = ProblemKind::Unreadable});
    };
    if (salt.size() != pin_salt_bytes || cost.passes < 1 || cost.passes > 1000 || cost.memory_kib < 8 ||
        cost.memory_kib > 1'048'576)
        return no_key("What is kept about this PIN is damaged.");
    static_assert(pin_salt_bytes == crypto_pwhash_SALTBYTES);
    if (sodium_init() < 0) return no_key("The library that checks PINs does not start.");
    std::string key(32, '\0');
    const int code = crypto_pwhash(reinterpret_cast<unsigned char*>(key.data()), key.size(), pin.data(),
                                   pin.size(), reinterpret_cast<const unsigned char*>(salt.data()),
                                   cost.passes, static_cast<std::size_t>(cost.memory_kib) * 1024,
                                   crypto_pwhash_ALG_ARGON2ID13);
    if (code != 0) return no_key("There is not enough memory to check the PIN.");
    return key;
}

void wipe(std::string& secret) {
    sodium_memzero(secret.data(), secret.size());
    secret.clear();
}

}  // namespace wm::digest
