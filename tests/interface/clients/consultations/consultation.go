// A consultation with what openapi-generator makes in Go.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log"
	"os"

	"client"
)

var lifter = *client.NewLifter(kilograms(64), *client.NewLength(168, client.LENGTHUNIT_CM))

func kilograms(value float64) client.Mass {
	return *client.NewMass(value, client.MASSUNIT_KG)
}

func squat(sets int32) client.Prescription {
	made := client.NewPrescription(client.EXERCISEID_FRONT_SQUAT, sets, kilograms(62.5))
	made.SetReps(*client.NewRepRange(5, 6))
	return *made
}

func question(pain float64, prescription client.Prescription) client.Adjustments {
	complaint := *client.NewComplaint(client.REGIONID_LOW_BACK, pain)
	return *client.NewAdjustments(lifter, prescription, complaint, client.AIM_STRENGTH)
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// An answer's prescription as a question takes it.
func sentOn(answered client.PrescriptionAnswer) (prescription client.Prescription) {
	text, err := json.Marshal(answered)
	check(err)
	check(json.Unmarshal(text, &prescription))
	return prescription
}

func main() {
	configuration := client.NewConfiguration()
	configuration.Servers = client.ServerConfigurations{{URL: os.Args[1]}}
	service := client.NewAPIClient(configuration).TheMainJobAPI
	background := context.Background()

	answer, _, err := service.ComputeAdjustments(background).Adjustments(question(4, squat(4))).Execute()
	check(err)
	best := answer.Options[0].Prescription
	done := *client.NewSessionDone(1)
	done.SetPainNextMorning(1)
	for set := int64(0); set < best.Sets; set++ {
		done.RepsDone = append(done.RepsDone, int32(best.Reps.Get().High))
	}
	session := client.NewSessionReview(sentOn(best), client.REGIONID_LOW_BACK, []client.SessionDone{done, done})
	session.SetOriginal(squat(4))
	session.SetLifter(lifter)
	session.SetAim(client.AIM_STRENGTH)
	session.SetUsualPain(1)
	review, _, err := service.ComputeSessionReview(background).SessionReview(*session).Execute()
	check(err)

	sign := question(1, squat(4))
	sign.Complaint.Signs = []client.SignId{client.SIGNID_BILATERAL_LEG_SYMPTOMS}
	flagged, _, err := service.ComputeAdjustments(background).Adjustments(sign).Execute()
	check(err)

	said := map[string]any{
		"decision": answer.Decision, "exercise": best.Exercise, "load": best.Load.Value,
		"review": review.Decision, "next": nil, "urgency": flagged.Referral.Get().Urgency,
	}
	if next := review.Next.Get(); next != nil {
		said["next"] = next.Load.Value
	}
	_, _, err = service.ComputeAdjustments(background).Adjustments(question(4, squat(0))).Execute()
	var refused *client.GenericOpenAPIError
	if errors.As(err, &refused) {
		problem := refused.Model().(client.Problem)
		said["refused"] = problem.Errors[0].Pointer
	}
	text, err := json.Marshal(said)
	check(err)
	fmt.Println(string(text))
}
