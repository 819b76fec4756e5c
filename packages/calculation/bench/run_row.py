"""One row in a process of its own, beside run-row.ts: the same work with numpy and scipy."""
import importlib.util
import json
import resource
import sys
import time

row_path, data_path = sys.argv[1:3]
spec = importlib.util.spec_from_file_location('row', row_path)
row = importlib.util.module_from_spec(spec)
spec.loader.exec_module(row)
with open(data_path, encoding='utf-8') as file:
    data = json.load(file)

began = time.perf_counter()
figures = [float(value) for value in row.work(data)]
cold_seconds = time.perf_counter() - began
warm = []
# Warm turns fill a second, and are 5 to 1000: the other side has the same rule.
most = 0 if sys.argv[3:] == ['once'] else 1000
end = time.perf_counter() + 1
while len(warm) < most and (len(warm) < 5 or time.perf_counter() < end):
    start = time.perf_counter()
    row.work(data)
    warm.append(time.perf_counter() - start)
warm.sort()
print(json.dumps({
    'figures': figures,
    'warmSeconds': warm[len(warm) // 2] if warm else cold_seconds,
    'peakMegabytes': resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
}))
