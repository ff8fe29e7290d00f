#!/usr/bin/env python3
"""Appends what the benchmark measures to results.csv, one row a case.

history.py BENCH COUNTED RESULTS.CSV CHECKOUT

Times are medians of several rounds, cases in turns, so that a machine that is busy for a while is so for all of them. The
column `ratio` is the rate over that of the yardstick with as many riders, in the same run: it holds on any machine. Where
valgrind is installed the instructions of a rider-step are counted, which no other program on the machine can move.
"""

import csv
import json
import os
import platform
import re
import shutil
import statistics
import subprocess
import sys
import tempfile

ROUNDS, SECONDS = 5, 0.2
COUNTED = {'steady/12': 3000, 'steady/200': 600, 'steady/5000': 100, 'mixed/5000': 100, 'race/200': 600, 'gusty_wind_on_hills/200': 300, 'days/12': 2}
COLUMNS = ['commit', 'date', 'machine', 'case', 'rider_steps_per_s', 'ratio', 'instructions', 'state']


def said(*command, **options):
    return subprocess.run(command, check=True, capture_output=True, text=True, **options).stdout


def machine():
    """The kind of processor, how many of it, and the compiler; no maker and never a name of the machine."""
    compiler = said('c++', '--version').splitlines()[0] if shutil.which('c++') else ''
    words = [platform.machine(), f'{os.cpu_count()} cores', compiler]
    return re.sub(r'[,"\s]+', ' ', '; '.join(word for word in words if word))


def commit(checkout):
    """The last commit and its day; with a star where files have been changed since."""
    short, day = said('git', '-C', checkout, 'log', '-1', '--format=%h %cs').split()
    changed = said('git', '-C', checkout, 'status', '--porcelain', '--untracked-files=no').strip()
    return short + ('*' if changed else ''), day


def timed(bench):
    """Rates of every case in each round, and the hash of its state."""
    told = json.loads(said(bench, '--benchmark_format=json', f'--benchmark_repetitions={ROUNDS}',
                           '--benchmark_enable_random_interleaving=true', f'--benchmark_min_time={SECONDS}',
                           '--benchmark_filter=^(steady|race|mixed|constant_wind|gusty_wind|days|yardstick)'))
    rates, states = {}, {}
    for run in told['benchmarks']:
        if run['run_type'] != 'iteration':
            continue
        name = run['run_name']
        rates.setdefault(name, []).append(run['rider_steps'])
        states[name] = run.get('label', '').replace('state ', '')
    return rates, states


def instructions(counted, case, steps):
    """Of one rider-step; nothing without valgrind."""
    if not shutil.which('valgrind'):
        return ''
    name, riders = case.split('/')
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.run(['valgrind', '--tool=callgrind', '--toggle-collect=counted*',
                              f'--callgrind-out-file={folder}/out', counted, name, riders, str(steps)],
                             check=True, capture_output=True, text=True)
    collected = int(re.search(r'Collected : (\d+)', run.stderr).group(1))
    return f"{collected / float(re.search(r'rider_steps (.*)', run.stdout).group(1)):.1f}"


def ratio(rates, case):
    """Over the yardstick with as many riders, or with 12 where there is none."""
    riders = case.split('/')[1]
    yard = rates.get(f'yardstick/{riders}', rates['yardstick/12'])
    return statistics.median(rates[case]) / statistics.median(yard)


def main():
    bench, counted, results, checkout = sys.argv[1:]
    rates, states = timed(bench)
    short, day = commit(checkout)
    rows = []
    for case in rates:
        many = statistics.median(rates[case])
        rows.append([short, day, machine(), case, f'{many:.3g}', f'{ratio(rates, case):.4f}',
                     instructions(counted, case, COUNTED[case]) if case in COUNTED else '', states[case]])
    fresh = not os.path.exists(results)
    with open(results, 'a', newline='') as file:
        out = csv.writer(file, lineterminator='\n')
        if fresh:
            out.writerow(COLUMNS)
        out.writerows(rows)
    for row in rows:
        print(f'{row[3]:26} {float(row[4]) / 1e6:8.2f} M rider-steps/s  ratio {row[5]}  {row[6]:>8} instructions')


main()
