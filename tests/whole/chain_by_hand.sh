#!/bin/sh
# Checks a chain the way the tool explains it: carries out the shell lines of the explanation as
# printed. Usage: chain_by_hand.sh FOLDER, which holds chain.txt and explanation.txt.
set -eu
cd "$1"
sed -n 's/^      //p' explanation.txt > steps.sh
sh -u steps.sh
