#!/usr/bin/env bash
# Sets up a fresh clone and runs the main job on the demo piece: look at it, then make a drill of its first divided line.
set -euo pipefail
cd "$(dirname "$0")"
. ./setup.sh
need_node
need_packages
piece=demo/lanterns-on-the-towpath.musicxml
npx --no levare look "$piece"
npx --no levare drill "$piece" --bars 10-17 --keep 1/8 --click weak --tempo 72,80,92 --out demo/out
