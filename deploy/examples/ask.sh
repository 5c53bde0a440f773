#!/bin/sh
# Asks with curl: the main job in JSON, one bare number by address, and a table of questions.
#   deploy/examples/ask.sh [address of the service]
set -eu
service=${1:-http://127.0.0.1:8000}

# --fail-with-body: a refusal ends the script, and its words are seen.
ask() {
    curl --silent --show-error --fail-with-body "$@"
}

echo 'Which change takes demand off the sore low back?'
ask "$service/v1/adjustments" --header 'content-type: application/json' --data '{
  "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
  "prescription": {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6},
                   "load": {"value": 62.5, "unit": "kg"}, "reps_in_reserve": 2, "days_per_week": 2},
  "complaint": {"region": "low_back", "pain_in_session": 4},
  "aim": "strength",
  "constraints": {"bar": {"bar": {"value": 15, "unit": "kg"}}},
  "limit": 1}'
echo

echo 'Which load for nine repetitions with two left, in kilograms?'
ask --get "$service/v1/load-for-reps" --data 'load=62.5kg&reps=6&reps_in_reserve=2&exercise=front_squat' \
    --data 'target_reps=9&target_reps_in_reserve=2' --data 'as=text' --data-urlencode 'select=/load/value'
echo

echo 'And for eight to ten, one question a row?'
{
    printf 'load,reps,reps_in_reserve,exercise,target_reps,target_reps_in_reserve\r\n'
    printf '62.5kg,6,2,front_squat,%d,2\r\n' 8 9 10
} | ask "$service/v1/tables/load-for-reps" --header 'content-type: text/csv' --data-binary @- | cut -d , -f 5,7-9
