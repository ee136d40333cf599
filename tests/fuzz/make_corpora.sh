#!/usr/bin/env bash
# Makes the corpora of bundles, seals and stamps. Run from the root of the tree, once for each format of bundles:
#     tests/fuzz/make_corpora.sh 2
# What is there already is kept: a corpus only grows. Keys made here are thrown away.
set -euo pipefail
program=build/checked/test_fuzz
corpus=tests/fuzz/corpus
mkdir -p $corpus/{bundle,seal,stamp,stamp_authority}
[ -e "$corpus/bundle/open-$1.bundle" ] || WM_FORMAT="$1" $program -tc='makes two bundles*' --no-skip
[ ! -e $corpus/seal/ours.der ] || exit 0
$program -tc='writes a seal of ours*' --no-skip
keys="$(mktemp -d)"
trap 'rm -rf "$keys"' EXIT
printf 'the report' >"$keys/report"
for kind in rsa:2048 ec; do
    options=(-newkey "$kind"); [ "$kind" = ec ] && options+=(-pkeyopt ec_paramgen_curve:P-256)
    openssl req -x509 "${options[@]}" -nodes -keyout "$keys/$kind.key" -out "$keys/$kind.pem" -subj "/CN=Brackwater Sun" -days 3650 2>/dev/null
done
sign() { openssl cms -sign -in "$keys/report" -binary -outform DER -signer "$keys/$1.pem" -inkey "$keys/$1.key" -out "$corpus/seal/$2" "${@:3}"; }
sign rsa:2048 rsa.der
sign ec signing_time.der
sign ec cades.der -cades
sign ec words_inside.der -nodetach
sign ec no_attributes.der -noattr
sign ec no_certificate.der -nocerts
sign ec key_id.der -keyid
sign ec streamed.ber -stream -nodetach
openssl cms -data_create -in "$keys/report" -outform DER -out $corpus/seal/only_data.der

cat >"$keys/tsa.conf" <<'C'
[tsa]
default_tsa = one
[one]
serial = $ENV::KEYS/serial
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256
ess_cert_id_alg = $ENV::ESS
accuracy = $ENV::ACCURACY
C
export KEYS="$keys" ESS=sha256 ACCURACY=secs:1
stamper() {
    openssl req -x509 -newkey "${@:2}" -nodes -keyout "$keys/$1.key" -out "$keys/$1.pem" -subj "/CN=Tarnhollow Clock" -days 3650 \
        -addext "extendedKeyUsage=critical,timeStamping" -addext "keyUsage=critical,digitalSignature" 2>/dev/null
}
stamper tsa ec -pkeyopt ec_paramgen_curve:P-256
stamper other rsa:2048
answer() { openssl ts -reply -config "$keys/tsa.conf" -queryfile "$corpus/stamp/$1" -signer "$keys/$2.pem" -inkey "$keys/$2.key" -out "$corpus/stamp/$3" 2>/dev/null; }
answer question tsa granted.der
answer question other another_authority.der
answer question-2 tsa another_question.der
ESS=sha1 answer question tsa old_hash.der
openssl ts -query -data "$keys/report" -sha256 -cert -out "$corpus/stamp/strange" 2>/dev/null
answer strange tsa another_nonce.der
openssl ts -query -data "$keys/report" -sha512 -cert -out "$corpus/stamp/strange" 2>/dev/null
answer strange tsa refused.der || true
cat "$keys/tsa.pem" "$keys/other.pem" >$corpus/stamp_authority/authority.pem
rm -f $corpus/stamp/{question,question-2,strange}
