package dev.gaugebook.client

import dev.gaugebook.client.RealServer.Companion.SHOP
import dev.gaugebook.v1.Across
import dev.gaugebook.v1.Assessment
import dev.gaugebook.v1.CalculatorServiceGrpcKt.CalculatorServiceCoroutineStub
import dev.gaugebook.v1.CounterServiceGrpcKt.CounterServiceCoroutineStub
import dev.gaugebook.v1.ErrorReason
import dev.gaugebook.v1.Inspection
import dev.gaugebook.v1.InspectionServiceGrpcKt.InspectionServiceCoroutineStub
import dev.gaugebook.v1.Vehicle
import dev.gaugebook.v1.VehicleClass
import dev.gaugebook.v1.VehicleServiceGrpcKt.VehicleServiceCoroutineStub
import dev.gaugebook.v1.assessVisitRequest
import dev.gaugebook.v1.axle
import dev.gaugebook.v1.axles
import dev.gaugebook.v1.copy
import dev.gaugebook.v1.depth
import dev.gaugebook.v1.getInspectionRequest
import dev.gaugebook.v1.getVehicleRequest
import dev.gaugebook.v1.inspection
import dev.gaugebook.v1.place
import dev.gaugebook.v1.pressure
import dev.gaugebook.v1.pressureReading
import dev.gaugebook.v1.pullChangesRequest
import dev.gaugebook.v1.recordInspectionRequest
import dev.gaugebook.v1.recordVehicleRequest
import dev.gaugebook.v1.treadReading
import dev.gaugebook.v1.vehicle
import dev.gaugebook.v1.wheelReport
import io.grpc.ManagedChannel
import io.grpc.Status
import io.grpc.StatusException
import java.util.UUID
import kotlin.test.Test
import kotlin.test.assertContains
import kotlin.test.assertEquals
import kotlin.test.assertFailsWith
import kotlin.test.assertFalse
import kotlin.test.assertTrue
import kotlinx.coroutines.runBlocking
import org.junit.jupiter.api.AfterAll
import org.junit.jupiter.api.TestInstance

/** The client against the server itself. The vehicle and its visit are invented. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ServerTest {
    private val server = RealServer()
    private val bench: ManagedChannel = openChannel("localhost", server.port, encrypted = false) { RealServer.BENCH }
    private val counter: ManagedChannel = openChannel("localhost", server.port, encrypted = false) { RealServer.COUNTER }

    private val vehicles = VehicleServiceCoroutineStub(bench)
    private val inspections = InspectionServiceCoroutineStub(bench)
    private val changes = CounterServiceCoroutineStub(counter)

    @AfterAll
    fun end() {
        listOf(bench, counter).forEach { it.shutdownNow() }
        server.close()
    }

    private fun car(): Vehicle = vehicle {
        id = UUID.randomUUID().toString()
        tag = "blue hatchback (invented)"
        vehicleClass = VehicleClass.VEHICLE_CLASS_PASSENGER_CAR
        axles = axles { repeat(2) { axles += axle { coldNormalLoad = pressure { psi = 33.0 } } } }
    }

    /** A left front tire at 1/32 in, below the wear bars, and 12 psi under the label. */
    private fun visit(to: Vehicle): Inspection = inspection {
        id = UUID.randomUUID().toString()
        vehicleId = to.id
        wheels += wheelReport {
            position = "1L"
            pressures += pressureReading { pressure = pressure { psi = 21.0 } }
            for (where in listOf(Across.ACROSS_INBOARD, Across.ACROSS_CENTER, Across.ACROSS_OUTBOARD)) {
                tread += treadReading { place = place { across = where }; depth = depth { thirtySecondsInch = 1.0 } }
            }
        }
    }

    private suspend fun record(car: Vehicle) = vehicles.recordVehicle(recordVehicleRequest { shopId = SHOP; vehicle = car })

    private suspend fun record(visit: Inspection) =
        inspections.recordInspection(recordInspectionRequest { shopId = SHOP; inspection = visit })

    @Test
    fun `a visit is recorded, read back, judged, and followed by the counter`(): Unit = runBlocking {
        val car = car()
        val visit = visit(car)
        record(car)
        val first = record(visit)
        val again = record(visit)
        assertFalse(first.recorded.repeatedCall)
        assertTrue(again.recorded.repeatedCall, "a repeated call is answered as the first")
        assertEquals(first.recorded.number, again.recorded.number)
        assertEquals(first.assessment, again.assessment)

        val read = inspections.getInspection(getInspectionRequest { shopId = SHOP; inspectionId = visit.id }).kept
        assertEquals(first.recorded, read.recorded)
        assertEquals(first.assessment, read.assessment)
        assertEquals("bench phone", read.recordedBy)
        assertEquals(visit.wheelsList, read.inspection.wheelsList)
        val open = vehicles.getVehicle(getVehicleRequest { shopId = SHOP; vehicleId = car.id }).state.openList
        assertContains(open.map { it.finding.code }, "tread.worn-to-bars")

        val pulled = changes.pullChanges(pullChangesRequest { shopId = SHOP })
        val change = pulled.changesList.single { it.inspection.inspectionId == visit.id }
        assertEquals(first.assessment.findingsList.map { it.id }, change.inspection.assessment.findingsList.map { it.id })
        val rest = changes.pullChanges(pullChangesRequest { shopId = SHOP; resumeToken = pulled.resumeToken })
        assertEquals(0, rest.changesCount)
    }

    @Test
    fun `the calculator keeps nothing and judges the same`(): Unit = runBlocking {
        val car = car()
        val answer = CalculatorServiceCoroutineStub(bench).assessVisit(assessVisitRequest { vehicle = car; inspection = visit(car) })
        val worn = answer.assessment.findingsList.filter { it.code == "tread.worn-to-bars" }
        assertEquals(listOf(listOf("1L")), worn.map { it.positionsList.toList() })
        assertTrue(answer.assessment.workList.isNotEmpty())
        val failed = assertFailsWith<StatusException> { vehicles.getVehicle(getVehicleRequest { shopId = SHOP; vehicleId = car.id }) }
        assertEquals(ErrorReason.ERROR_REASON_NOT_FOUND, Refusal.of(failed).knownReason)
    }

    /** This example of an app has a title for one code; the server has many. */
    @Test
    fun `a finding that the app does not know is shown in its words`(): Unit = runBlocking {
        val car = car()
        record(car)
        val judged = record(visit(car)).assessment
        val findings = judged.findingsList
        val (known, unknown) = findings.partition { it.code == "tread.worn-to-bars" }
        assertTrue(known.isNotEmpty() && unknown.isNotEmpty(), "${findings.map { it.code }}")
        known.forEach { assertContains(shown(it, judged.cautionsList), "Worn out") }
        println("shown in their words: ${unknown.map { it.code }.distinct()}")
        unknown.forEach {
            assertContains(shown(it, judged.cautionsList), it.forTechnician)
            assertFalse(it.forTechnician.isBlank(), it.code)
        }
        cautioned(judged)
    }

    /** A finding names its caution by a code; the words stand once in the answer. */
    private fun cautioned(judged: Assessment) {
        val named = judged.findingsList.filter { it.caution.isNotEmpty() }
        assertTrue(named.isNotEmpty(), "nothing of a worn-out tire 12 psi low is dangerous")
        named.forEach { assertContains(shown(it, judged.cautionsList), judged.cautionsList.single { c -> c.code == it.caution }.words) }
    }

    @Test
    fun `a visit that cannot be is refused with the path of every field at fault`(): Unit = runBlocking {
        val car = car()
        record(car)
        val wrong = visit(car).copy {
            wheels[0] = wheels[0].copy {
                position = "L1"
                tread[1] = tread[1].copy { depth = depth { thirtySecondsInch = 400.0 } }
                pressures[0] = pressures[0].copy { pressure = pressure { psi = -1.0 } }
            }
        }
        val refusal = Refusal.of(assertFailsWith<StatusException> { record(wrong) })
        refusal.problems.forEach { println("${it.path}: ${it.words}") }
        assertEquals(Status.Code.INVALID_ARGUMENT, refusal.code)
        assertEquals(ErrorReason.ERROR_REASON_FIELD_INVALID, refusal.knownReason)
        assertEquals(
            listOf(
                "inspection.wheels[0].position",
                "inspection.wheels[0].pressures[0].pressure",
                "inspection.wheels[0].tread[1].depth",
            ),
            refusal.problems.map { it.path }.sorted(),
        )
        assertTrue(refusal.problems.all { it.words.isNotBlank() })
    }

    @Test
    fun `an id that is taken is named`(): Unit = runBlocking {
        val car = car()
        record(car)
        val failed = assertFailsWith<StatusException> { record(car.copy { tag = "another (invented)" }) }
        val refusal = Refusal.of(failed)
        assertEquals(Status.Code.ALREADY_EXISTS, refusal.code)
        assertEquals(ErrorReason.ERROR_REASON_ID_TAKEN, refusal.knownReason)
        assertEquals(car.id, refusal.about["id"])
    }

    @Test
    fun `a phone that the server does not know is told so`(): Unit = runBlocking {
        val stranger = openChannel("localhost", server.port, encrypted = false) { "token-of-nobody-here" }
        try {
            val failed = assertFailsWith<StatusException> {
                VehicleServiceCoroutineStub(stranger).getVehicle(getVehicleRequest { shopId = SHOP; vehicleId = UUID.randomUUID().toString() })
            }
            assertEquals(ErrorReason.ERROR_REASON_UNAUTHENTICATED, Refusal.of(failed).knownReason)
        } finally {
            stranger.shutdownNow()
        }
    }
}
