#!/bin/sh
# Checks a chain the way the tool explains it: carries out the shell lines of the explanation as
# printed, with sha256sum and openssl. With a FOLDER that holds chain.txt and explanation.txt it says
# what the steps said; without one it makes the demo job, has it explained, and demands a sound chain.
set -eu

carry_out() {
    cd "$1"
    sed -n 's/^      //p' explanation.txt > steps.sh
    sh -u steps.sh
}

if [ $# -gt 0 ]; then
    carry_out "$1"
    exit
fi

program=${WM_PROGRAM:-$(dirname "$0")/../../build/release/witnessmark}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$program" demo --into "$folder/data" > /dev/null
"$program" attest --journal --explain --data "$folder/data" --out "$folder" > "$folder/explanation.txt"
said=$(carry_out "$folder" 2>&1)
printf '%s\n' "$said"
case $said in *"was changed"* | *"does not follow"*) exit 1 ;; esac
case $said in *"Signature Verified Successfully"*) ;; *) exit 1 ;; esac
