package dev.gaugebook.client

import com.google.gson.Gson
import com.google.gson.JsonObject
import dev.gaugebook.v1.Finding
import dev.gaugebook.v1.ShopServiceGrpcKt.ShopServiceCoroutineStub
import dev.gaugebook.v1.VehicleServiceGrpcKt.VehicleServiceCoroutineStub
import dev.gaugebook.v1.finding
import dev.gaugebook.v1.getServerRequest
import dev.gaugebook.v1.getServerResponse
import dev.gaugebook.v1.getVehicleRequest
import dev.gaugebook.v1.getVehicleResponse
import dev.gaugebook.v1.openFinding
import dev.gaugebook.v1.said
import dev.gaugebook.v1.vehicleState
import io.grpc.CallOptions
import io.grpc.ManagedChannel
import io.grpc.Status
import io.grpc.StatusException
import io.grpc.stub.ClientCalls
import java.io.File
import java.util.concurrent.ExecutionException
import java.util.concurrent.TimeUnit
import java.util.logging.Level
import java.util.logging.Logger
import kotlin.test.Test
import kotlin.test.assertContentEquals
import kotlin.test.assertEquals
import kotlin.test.assertFailsWith
import kotlin.test.assertNotNull
import kotlin.test.assertNull
import kotlin.test.assertTrue
import kotlinx.coroutines.Dispatchers
import kotlinx.coroutines.async
import kotlinx.coroutines.awaitAll
import kotlinx.coroutines.runBlocking

/** What [openChannel] does with each call of the contract, seen from the server. */
class ChannelTest {
    /** Says of each call, by its full name, how long it waits, null where it has no end, and whether it may be repeated. */
    private class Told(val seconds: Double?, val repeated: Boolean)

    private val told: Map<String, Told> = Gson()
        .fromJson(File(root, "proto/gaugebook/v1/service_config.json").readText(), JsonObject::class.java)
        .getAsJsonArray("methodConfig").map { it.asJsonObject }
        .flatMap { config ->
            val says = Told(config["timeout"]?.asString?.removeSuffix("s")?.toDouble(), config.has("retryPolicy"))
            config.getAsJsonArray("name").map { it.asJsonObject }
                .map { "${it["service"].asString}/${it["method"].asString}" to says }
        }.toMap()

    private val names = calls.map { it.fullMethodName }

    @Test
    fun `the service config names every call`() {
        assertEquals(names.sorted(), told.keys.sorted())
    }

    /** The Go tests hold the same file to what may be repeated and how long each call waits. */
    @Test
    fun `a server that comes back is asked again where that is safe, in the time there is`() {
        FakeServer { attempt, _ -> if (attempt <= 2) Status.UNAVAILABLE else Status.OK }.use { server ->
            val codes = askAll(server)
            for (name in names) {
                val says = told.getValue(name)
                val attempts = server.attempts(name)
                assertEquals(if (says.repeated) Status.Code.OK else Status.Code.UNAVAILABLE, codes[name], name)
                assertEquals(if (says.repeated) 3 else 1, attempts.size, name)
                val left = attempts.first().deadline?.timeRemaining(TimeUnit.MILLISECONDS)?.let { it / 1000.0 }
                if (says.seconds == null) assertNull(left, name) else assertTrue(assertNotNull(left, name) in 0.0..says.seconds, "$name: $left s")
            }
        }
    }

    @Test
    fun `no other refusal is answered by asking again`() {
        for (code in Status.Code.values().filter { it != Status.Code.OK && it != Status.Code.UNAVAILABLE }) {
            FakeServer { _, _ -> code.toStatus() }.use { server ->
                assertEquals(names.associateWith { code }, askAll(server))
                assertEquals(names.associateWith { 1 }, names.associateWith { server.attempts(it).size }, "$code")
            }
        }
    }

    @Test
    fun `a server that stays away is asked four times`() {
        FakeServer { _, _ -> Status.UNAVAILABLE }.use { server ->
            assertEquals(Status.Code.UNAVAILABLE, ask(server, GET_SERVER))
            assertEquals(4, server.attempts().size)
        }
    }

    @Test
    fun `a caller may wait less long, and an answer that does not come is not asked for again`() {
        FakeServer { _, _ -> null }.use { server ->
            open(server) { channel ->
                val failed = assertFailsWith<StatusException> {
                    runBlocking { ShopServiceCoroutineStub(channel).withDeadlineAfter(300, TimeUnit.MILLISECONDS).getServer(getServerRequest {}) }
                }
                assertEquals(Status.Code.DEADLINE_EXCEEDED, Refusal.of(failed).code)
            }
            assertTrue(server.attempts().size <= 1)
        }
    }

    @Test
    fun `each call carries the token of its moment`() {
        val answer = getServerResponse { version = "1" }
        FakeServer(answer.toByteArray()) { _, _ -> Status.OK }.use { server ->
            val tokens = mutableListOf("second", "first")
            open(server, token = { tokens.removeLast() }) { channel ->
                val shops = ShopServiceCoroutineStub(channel)
                val answers = runBlocking { List(2) { shops.getServer(getServerRequest {}) } }
                assertEquals(listOf(answer, answer), answers)
            }
            assertEquals(listOf<String?>("Bearer first", "Bearer second"), server.attempts().map { it.token })
        }
    }

    @Test
    fun `unless told otherwise nothing goes out unencrypted`() {
        FakeServer { _, _ -> Status.OK }.use { server ->
            val channel = openChannel("localhost", server.port) { "token" }
            try {
                val once = names.single { !told.getValue(it).repeated }
                assertEquals(Status.Code.UNAVAILABLE, code(channel, once))
            } finally {
                channel.shutdownNow()
            }
            assertEquals(0, server.attempts().size)
        }
    }

    @Test
    fun `a finding of a newer server is shown in its words and comes with what is new in it`() {
        val newer = finding {
            code = "tread.not-yet-thought-of"
            urgencyValue = 99
            positions += "1L"
            forTechnician = "Something new about the tread."
            caution = "caution.not-yet-thought-of"
        }.toByteArray() + byteArrayOf(0xc2.toByte(), 0x3e, 1, 'x'.code.toByte()) // field 1000
        val answer = getVehicleResponse {
            state = vehicleState {
                open += openFinding { finding = Finding.parseFrom(newer) }
                cautions += said {
                    code = "caution.not-yet-thought-of"
                    words = "Take care."
                }
            }
        }
        FakeServer(answer.toByteArray()) { _, _ -> Status.OK }.use { server ->
            open(server) { channel ->
                val state = runBlocking { VehicleServiceCoroutineStub(channel).getVehicle(getVehicleRequest {}) }.state
                assertEquals(listOf("1L: Something new about the tread. Take care."), state.openList.map { shown(it.finding, state.cautionsList) })
                assertContentEquals(newer, state.getOpen(0).finding.toByteArray())
            }
        }
    }

    /** Every call once, each on a channel of its own: calls on one channel share how often they repeat. */
    private fun askAll(server: FakeServer): Map<String, Status.Code> = runBlocking(Dispatchers.IO) {
        names.map { name -> async { name to ask(server, name) } }.awaitAll().toMap()
    }

    private fun ask(server: FakeServer, name: String): Status.Code = open(server) { code(it, name) }

    private fun code(channel: ManagedChannel, name: String): Status.Code {
        val type = calls.single { it.fullMethodName == name }.type
        val call = channel.newCall(descriptor(name, type), CallOptions.DEFAULT)
        return try {
            ClientCalls.futureUnaryCall(call, ByteArray(0)).get()
            Status.Code.OK
        } catch (failed: ExecutionException) {
            Status.fromThrowable(failed).code
        }
    }

    private fun <R> open(server: FakeServer, token: () -> String = { "token" }, use: (ManagedChannel) -> R): R {
        val channel = openChannel("localhost", server.port, encrypted = false, token)
        return try {
            use(channel)
        } finally {
            channel.shutdownNow()
        }
    }

    private companion object {
        const val GET_SERVER = "gaugebook.v1.ShopService/GetServer"

        /** Warns of what the fake server cannot read; what counts is what the client makes of it. */
        val serverLog: Logger = Logger.getLogger("io.grpc.okhttp").apply { level = Level.SEVERE }
    }
}
