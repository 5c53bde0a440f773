#!/bin/sh
# Asks with curl: the main job in JSON, sessions and one bare number by address, and a table of questions.
#   deploy/examples/ask.sh; SERVICE is its address.
set -eu
service=${SERVICE:-http://127.0.0.1:8000}

# --fail-with-body: a refusal ends the script, and its words are seen.
ask() {
    curl --silent --show-error --fail-with-body "$@"
}

echo 'Which change takes demand off the sore low back?'
ask "$service/v1/adjustments" --header 'content-type: application/json' --data '{
  "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
  "prescription": {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6},
                   "load": {"value": 62.5, "unit": "kg"}, "reps_in_reserve": 2, "days_per_week": 2},
  "complaint": {"region": "low_back", "pain_in_session": 4, "usual_pain": 1},
  "aim": "strength",
  "constraints": {"gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}}},
  "limit": 1}'
echo

echo 'And then, session by session (pain, next morning) until the original is back?'
lifter='lifter_body_mass=64kg&lifter_stature=168cm&lifter_sex=female'
squat='exercise=front_squat&sets=4&reps=5-6&load=62.5kg&reps_in_reserve=2&days_per_week=2'
# A whole prescription is one cell, written as the next question takes it: as NAME_exercise=…&NAME_sets=… where it has a name.
named() {
    printf '%s_%s' "$1" "$2" | sed "s/&/\&$1_/g"
}
now=$(ask --get "$service/v1/adjustments" --data "$lifter&$squat&aim=strength&complaint_region=low_back" \
    --data 'complaint_pain_in_session=4&complaint_usual_pain=1&constraints_gym_bar=15kg&as=text' \
    --data 'select=/options/0/prescription')
known="$lifter&$(named original "$squat")&region=low_back&gym_bar=15kg&aim=strength&usual_pain=1"
for came in 3:1.5 2:1 1.5:1; do
    pains=${pains:+$pains,}${came%:*}
    mornings=${mornings:+$mornings,}${came#*:}
    reps=${reps:+$reps,}'9;9;9'
    review="$service/v1/session-review?$known&$(named prescription "$now")&sessions_pain_in_session=$pains"
    review="$review&sessions_pain_next_morning=$mornings&sessions_reps_done=$reps&as=text&select="
    now=$(ask "$review/next")
    echo "$came $(ask "$review/decision"): $now"
done
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
