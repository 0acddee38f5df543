package dev.gaugebook.client

import dev.gaugebook.v1.Across
import dev.gaugebook.v1.InspectionServiceGrpcKt.InspectionServiceCoroutineStub
import dev.gaugebook.v1.VehicleClass
import dev.gaugebook.v1.VehicleServiceGrpcKt.VehicleServiceCoroutineStub
import dev.gaugebook.v1.axle
import dev.gaugebook.v1.axles
import dev.gaugebook.v1.depth
import dev.gaugebook.v1.inspection
import dev.gaugebook.v1.jurisdiction
import dev.gaugebook.v1.place
import dev.gaugebook.v1.pressure
import dev.gaugebook.v1.recordInspectionRequest
import dev.gaugebook.v1.recordVehicleRequest
import dev.gaugebook.v1.treadReading
import dev.gaugebook.v1.vehicle
import dev.gaugebook.v1.vehicleUse
import dev.gaugebook.v1.wheelReport
import io.grpc.StatusException
import java.util.UUID
import kotlin.test.Test
import kotlin.test.assertTrue
import kotlinx.coroutines.runBlocking

/** The example of this client's README, to which a test of the program holds these lines. */
class ReadmeTest {
    @Test
    fun `the vehicle is recorded, then its first visit`(): Unit = runBlocking {
        RealServer().use { server ->
            val shop = RealServer.SHOP
            val car = UUID.randomUUID().toString()
            val shown = mutableListOf<String>()
            fun show(words: String, caution: String?) {
                shown += listOfNotNull(words, caution)
            }
            fun showBeside(path: String, words: String): Unit = error("$path: $words")
            val channel = openChannel("localhost", server.port, encrypted = false) { RealServer.BENCH }
            val vehicles = VehicleServiceCoroutineStub(channel)
            val inspections = InspectionServiceCoroutineStub(channel)

            val known = vehicle {
                id = car
                vehicleClass = VehicleClass.VEHICLE_CLASS_PASSENGER_CAR
                axles = axles { repeat(2) { axles += axle { coldNormalLoad = pressure { psi = 33.0 } } } }
                use = vehicleUse { drivenIn += jurisdiction { country = "US"; state = "TX" } }
            }
            val visit = inspection {
                id = UUID.randomUUID().toString()
                vehicleId = car
                wheels += wheelReport {
                    position = "1L"
                    tread += treadReading { place = place { across = Across.ACROSS_CENTER }; depth = depth { thirtySecondsInch = 4.0 } }
                }
            }
            try {
                vehicles.recordVehicle(recordVehicleRequest { shopId = shop; vehicle = known })
                val judged = inspections.recordInspection(recordInspectionRequest { shopId = shop; inspection = visit }).assessment
                val cautions = judged.cautionsList.associate { it.code to it.words }
                judged.findingsList.forEach { show(it.forTechnician, cautions[it.caution]) }
            } catch (e: StatusException) {
                Refusal.of(e).problems.forEach { showBeside(it.path, it.words) }
            }
            channel.shutdownNow()
            assertTrue(shown.isNotEmpty(), "nothing was shown")
        }
    }
}
