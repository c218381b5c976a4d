#!/usr/bin/env bash
# How many requests a second a kept page answers, beside a bare endpoint that sends the same bytes and headers.
# usage: wire.sh DATABASE [PAGE] [ROUNDS] [SECONDS]     needs wrk and curl; build the command line and the benchmarks first (-c Release)
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
database=$(realpath "$1"); page=${2:-/watersheds/99010203}; rounds=${3:-5}; seconds=${4:-8}
app_port=${WIRE_APP_PORT:-5391}; bare_port=${WIRE_BARE_PORT:-5392}
work=$(mktemp -d); pids=()
trap 'for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null || true; done; rm -rf "$work"' EXIT

ASPNETCORE_URLS="http://127.0.0.1:$app_port" dotnet "$root/src/Indicators.Cli/bin/Release/net10.0/indicators.dll" serve --db "$database" 2>"$work/app.log" & pids+=($!)
ask() { curl -sf -H 'Accept-Encoding: br' -D "$work/$2.head" -o "$work/$2.body" "http://127.0.0.1:$1$page"; }
wait_for() { for _ in $(seq 200); do ask "$1" "$2" && return 0; sleep 0.2; done; echo "nothing answers on port $1" >&2; cat "$work/app.log" >&2; exit 2; }
wait_for "$app_port" first
# The second time it comes from what is kept.
ask "$app_port" app
sed -i 's/\r$//' "$work/app.head"
# How old a kept page is the bare endpoint need not know.
sed -i '/^Age:/Id' "$work/app.head"
dotnet "$root/tests/Indicators.Benchmarks/bin/Release/net10.0/Indicators.Benchmarks.dll" bare "$work/app.head" "$work/app.body" "http://127.0.0.1:$bare_port" >"$work/bare.log" 2>&1 & pids+=($!)
wait_for "$bare_port" bare
cmp "$work/app.body" "$work/bare.body"
echo "page $page, $(stat -c %s "$work/app.body") bytes, $(nproc) processors, load $(cut -d' ' -f1-3 /proc/loadavg)"

run() { wrk -t1 -c32 -d"$1s" --latency -H 'Accept-Encoding: br' "http://127.0.0.1:$2$page" | tee "$work/last" | awk '/Requests\/sec/ {print $2}'; grep -E 'Non-2xx|Socket errors' "$work/last" >&2 || true; }
run 5 "$app_port" >/dev/null; run 5 "$bare_port" >/dev/null
for round in $(seq "$rounds"); do
  app=$(run "$seconds" "$app_port"); bare=$(run "$seconds" "$bare_port")
  awk -v a="$app" -v b="$bare" -v n="$round" -v l="$(cut -d' ' -f1 /proc/loadavg)" 'BEGIN {printf "%d app %.0f bare %.0f ratio %.3f load %s\n", n, a, b, a / b, l}' | tee -a "$work/rounds"
done
awk '{print $7}' "$work/rounds" | sort -n | awk '{r[NR] = $1} END {m = NR % 2 ? r[(NR + 1) / 2] : (r[NR / 2] + r[NR / 2 + 1]) / 2; printf "median ratio %.3f (%.3f to %.3f)\n", m, r[1], r[NR]}'
