#!/usr/bin/env bash
# Makes the proposals of the demonstration floors and has two standard HTML validators read them.
#
#   tests/html/validate.sh        needs node with npm, and java for the second validator
#
# Not part of .ci/run: it fetches the validators from the npm registry, and the tests already hold the file to what
# the validators found. Result with html-validate 10.17 and vnu-jar 26.9: no error and no warning on any of the three.
set -euo pipefail
cd "$(dirname "$0")/../.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cargo build -q
for sketch in sketches/*.yaml; do
  .target/debug/slabwalk proposal "$sketch" --out "$work/$(basename "$sketch" .yaml).html" 2>/dev/null
done
cd "$work"
npm init -y >/dev/null
npm install --silent html-validate@10 vnu-jar@26 >/dev/null
echo '{"extends": ["html-validate:standard", "html-validate:a11y"]}' >.htmlvalidate.json
npx html-validate ./*.html
java -jar node_modules/vnu-jar/build/dist/vnu.jar ./*.html
echo "valid: $(ls ./*.html | wc -l) proposals"
