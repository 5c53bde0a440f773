// A consultation with the models that openapi-generator makes in Kotlin, sent by the HTTP client of the JDK.
import client.models.*
import com.fasterxml.jackson.annotation.JsonInclude
import com.fasterxml.jackson.databind.DeserializationFeature
import com.fasterxml.jackson.databind.ObjectMapper
import java.net.URI
import java.net.http.HttpClient
import java.net.http.HttpRequest
import java.net.http.HttpResponse

val mapper: ObjectMapper = ObjectMapper()
    .setSerializationInclusion(JsonInclude.Include.NON_NULL)
    .configure(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES, false)
val lifter = Lifter(bodyMass = kilograms(64.0), stature = Length(value = 168.0, unit = LengthUnit.cm))
val squat = Prescription(exercise = ExerciseId.front_squat, sets = 4, reps = RepRange(low = 5, high = 6), load = kilograms(62.5))

fun kilograms(value: Double) = Mass(value = value, unit = MassUnit.kg)

fun question(complaint: Complaint, prescription: Prescription = squat) =
    Adjustments(lifter = lifter, prescription = prescription, complaint = complaint, aim = Aim.strength)

class Service(private val address: String) {
    private val client: HttpClient = HttpClient.newHttpClient()

    fun <Answer> asked(path: String, question: Any, kind: Class<Answer>): Answer {
        val request = HttpRequest.newBuilder(URI(address + path)).header("content-type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(mapper.writeValueAsString(question))).build()
        return mapper.readValue(client.send(request, HttpResponse.BodyHandlers.ofString()).body(), kind)
    }
}

fun main(arguments: Array<String>) {
    val service = Service(arguments[0])
    val sore = Complaint(region = RegionId.low_back, painInSession = 4.0)
    val answer = service.asked("/v1/adjustments", question(sore), AdjustmentsAnswer::class.java)
    val best = answer.options[0].prescription
    val done = SessionDone(painInSession = 1.0, painNextMorning = 1.0, repsDone = List(best.sets.toInt()) { best.reps!!.high.toInt() })
    val review = service.asked(
        "/v1/session-review",
        SessionReview(
            prescription = mapper.convertValue(best, Prescription::class.java), original = squat, lifter = lifter,
            aim = Aim.strength, region = RegionId.low_back, usualPain = 1.0, sessions = listOf(done, done),
        ),
        SessionReviewAnswer::class.java,
    )
    val sign = Complaint(region = RegionId.low_back, painInSession = 1.0, signs = listOf(SignId.bilateral_leg_symptoms))
    val flagged = service.asked("/v1/adjustments", question(sign), AdjustmentsAnswer::class.java)
    val refused = service.asked("/v1/adjustments", question(sore, squat.copy(sets = 0)), Problem::class.java)
    println(
        mapper.writeValueAsString(
            mapOf(
                "decision" to answer.decision, "exercise" to best.exercise, "load" to best.load.value,
                "review" to review.decision, "next" to review.next?.load?.value,
                "urgency" to flagged.referral?.urgency, "refused" to refused.errors?.get(0)?.pointer,
            ),
        ),
    )
}
