#!/usr/bin/env bash
# A whole job in a headless window: by one finger, by keys alone, and the tutorial. What the hand needed is printed.
set -euo pipefail
cd "$(dirname "$0")/../.."
build/release/by_hand
