-- The request that wrk repeats, from the environment, and its result as one line of JSON.
wrk.method = "POST"
wrk.headers["Content-Type"] = "application/json"

local key = os.getenv("BENCHMARK_KEY")
if key then
  wrk.headers["Authorization"] = "Bearer " .. key
end

local file = assert(io.open(os.getenv("BENCHMARK_BODY"), "rb"))
wrk.body = file:read("*a")
file:close()

function done(summary, latency, requests)
  local errors = summary.errors
  io.write(string.format(
    '\nRESULT {"requests": %d, "duration": %d, "p50": %d, "p99": %d, "failed": %d}\n',
    summary.requests, summary.duration, latency:percentile(50), latency:percentile(99),
    errors.connect + errors.read + errors.write + errors.timeout + errors.status))
end
