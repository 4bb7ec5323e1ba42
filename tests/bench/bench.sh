#!/bin/sh
# Time and memory on this machine. usage: tests/bench/bench.sh BUILD
set -eu
build=$1
"$build"/tests/bench/bench_run "$build"/brevis scenarios/hand_532nm.yaml "$build"/tests/bench/out
"$build"/tests/bench/bench_light
"$build"/tests/bench/bench_spot
"$build"/tests/bench/bench_sampled
"$build"/tests/bench/bench_train
"$build"/tests/bench/bench_heat
