// A consultation with what openapi-generator makes in Java, over the HTTP client of the JDK.
import client.ApiClient;
import client.ApiException;
import client.api.TheMainJobApi;
import client.model.*;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;

public class Consultation {
  static final Lifter LIFTER =
      new Lifter().bodyMass(kilograms(64)).stature(new Length().value(168.0).unit(LengthUnit.CM));

  static Mass kilograms(double value) {
    return new Mass().value(value).unit(MassUnit.KG);
  }

  static Prescription squat(int sets) {
    return new Prescription().exercise(ExerciseId.FRONT_SQUAT).sets(sets).reps(new RepRange().low(5).high(6)).load(kilograms(62.5));
  }

  static AdjustmentsAnswer asked(TheMainJobApi service, Adjustments question) throws ApiException {
    return service.computeAdjustments(TheMainJobApi.APIComputeAdjustmentsRequest.newBuilder().adjustments(question).build());
  }

  static Adjustments question(double pain, Prescription prescription) {
    Complaint complaint = new Complaint().region(RegionId.LOW_BACK).painInSession(pain);
    return new Adjustments().lifter(LIFTER).prescription(prescription).complaint(complaint).aim(Aim.STRENGTH);
  }

  public static void main(String[] arguments) throws Exception {
    ApiClient client = new ApiClient();
    client.updateBaseUri(arguments[0]);
    TheMainJobApi service = new TheMainJobApi(client);

    AdjustmentsAnswer answer = asked(service, question(4, squat(4)));
    PrescriptionAnswer best = answer.getOptions().get(0).getPrescription();
    List<Integer> reps = Collections.nCopies(best.getSets().intValue(), best.getReps().getHigh().intValue());
    SessionDone done = new SessionDone().painInSession(1.0).painNextMorning(1.0).repsDone(reps);
    SessionReview question = new SessionReview()
        .prescription(client.getObjectMapper().convertValue(best, Prescription.class))
        .original(squat(4)).lifter(LIFTER).aim(Aim.STRENGTH).region(RegionId.LOW_BACK).usualPain(1.0)
        .sessions(List.of(done, done));
    SessionReviewAnswer review = service.computeSessionReview(
        TheMainJobApi.APIComputeSessionReviewRequest.newBuilder().sessionReview(question).build());

    Adjustments sign = question(1, squat(4));
    sign.getComplaint().addSignsItem(SignId.BILATERAL_LEG_SYMPTOMS);
    AdjustmentsAnswer flagged = asked(service, sign);

    var said = new HashMap<String, Object>();
    try {
      asked(service, question(4, squat(0)));
    } catch (ApiException refused) {
      Problem problem = client.getObjectMapper().readValue(refused.getResponseBody(), Problem.class);
      said.put("refused", problem.getErrors().get(0).getPointer());
    }
    said.put("decision", answer.getDecision());
    said.put("exercise", best.getExercise());
    said.put("load", best.getLoad().getValue());
    said.put("review", review.getDecision());
    said.put("next", review.getNext() == null ? null : review.getNext().getLoad().getValue());
    said.put("urgency", flagged.getReferral().getUrgency());
    System.out.println(client.getObjectMapper().writeValueAsString(said));
  }
}
