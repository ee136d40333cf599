// The words that let anyone check a chain with stock tools; the rest of chain.hpp.
#include <fmt/format.h>

#include "digest/hash.hpp"
#include "record/chain.hpp"

namespace wm::record {
namespace {

// tests/whole/chain_by_hand.sh carries out these steps as they are printed.
constexpr std::string_view steps =
    R"steps(How to check this chain with tools that are not ours (sha256sum, openssl 3).
Lines that stand far in are for the shell.

1. Each line of {file} is a hash, two spaces, and the entry it was made of.
   Recompute every hash and see that each entry names the hash of the one before:

      prev={zeros}; n=0
      while IFS= read -r row; do
        hash=${{row%%  *}}; line=${{row#*  }}; n=$((n+1))
        [ "$(printf %s "$line" | sha256sum | cut -c1-64)" = "$hash" ] || echo "entry $n was changed"
        case $line in
          *",\"prev\":\"$prev\",\"seq\":$n,\"time\":"*) ;;
          *) echo "entry $n does not follow the one before" ;;
        esac
        prev=$hash
      done < {file}
      echo "$n entries, head $prev"

2. The last hash must be the head that the report or the tool shows:

   device {device}
   entry  {seq}
   head   {hash}

3. The device signed this head. Write its public key, the signed words and the signature to files
   and let openssl compare them; it must say "Signature Verified Successfully":

      printf '%s\n' {pem} > device.pem
      printf 'witnessmark head\n{device}\n{seq}\n{hash}\n' > head.txt
      printf {signature} | tr a-f A-F | basenc --base16 -d > head.sig
      openssl pkeyutl -verify -pubin -inkey device.pem -rawin -in head.txt -sigfile head.sig

4. The device is named after its key; this must print {device}:

      openssl pkey -pubin -in device.pem -outform DER | tail -c 32 | sha256sum | cut -c1-32
)steps";

/// 'line' 'line' … for the shell. PEM has no quotes.
std::string quoted_lines(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        out += fmt::format("{}'{}'", out.empty() ? "" : " ", text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return out;
}

}  // namespace

std::string explain_chain(const SignedHead& head, std::string_view chain_file_name) {
    return fmt::format(steps, fmt::arg("file", chain_file_name), fmt::arg("zeros", no_hash()),
                       fmt::arg("device", head.head.device), fmt::arg("seq", head.head.seq),
                       fmt::arg("hash", head.head.hash),
                       fmt::arg("pem", quoted_lines(digest::public_key_pem(head.public_key))),
                       fmt::arg("signature", digest::to_hex(head.signature)));
}

}  // namespace wm::record
