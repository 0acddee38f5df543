package dev.gaugebook.client

import com.google.protobuf.ByteString
import com.google.protobuf.MessageLite
import com.google.rpc.badRequest
import com.google.rpc.BadRequestKt.fieldViolation
import com.google.rpc.errorInfo
import com.google.rpc.retryInfo
import com.google.rpc.status
import com.google.protobuf.any
import com.google.protobuf.duration
import dev.gaugebook.v1.ErrorReason
import dev.gaugebook.v1.Remedy
import io.grpc.Metadata
import io.grpc.Status
import io.grpc.StatusException
import java.io.IOException
import kotlin.test.Test
import kotlin.test.assertEquals
import kotlin.test.assertFailsWith
import kotlin.time.Duration.Companion.milliseconds
import kotlin.time.Duration.Companion.minutes
import kotlin.time.Duration.Companion.seconds

/** Refusals that no server of ours gives today; those it gives are in [ServerTest]. */
class RefusalTest {
    private fun refusal(vararg details: Pair<String, MessageLite>) = garbled(
        status {
            for ((name, detail) in details) {
                this.details += any {
                    typeUrl = "type.googleapis.com/$name"
                    value = detail.toByteString()
                }
            }
        }.toByteString(),
    )

    private fun garbled(details: ByteString): Refusal {
        val trailers = Metadata()
        trailers.put(Metadata.Key.of("grpc-status-details-bin", Metadata.BINARY_BYTE_MARSHALLER), details.toByteArray())
        return Refusal.of(StatusException(Status.RESOURCE_EXHAUSTED.withDescription("full"), trailers))
    }

    private val plain = Refusal(Status.Code.RESOURCE_EXHAUSTED, "full")

    private fun because(of: String, by: String = "gaugebook") = "google.rpc.ErrorInfo" to errorInfo {
        reason = of
        domain = by
        metadata["id"] = "a"
    }

    @Test
    fun `reason, problems and wait together`() {
        val bad = badRequest {
            fieldViolations += fieldViolation { field = "a.b[0]"; description = "no" }
            fieldViolations += fieldViolation { field = "c"; description = "nor this" }
        }
        val wait = retryInfo { retryDelay = duration { seconds = 1; nanos = 500_000_000 } }
        val refusal = refusal(because("TOO_MANY"), "google.rpc.BadRequest" to bad, "google.rpc.RetryInfo" to wait)
        assertEquals(
            plain.copy(
                reason = "TOO_MANY", about = mapOf("id" to "a"), retryAfter = 1500.milliseconds,
                problems = listOf(Refusal.Problem("a.b[0]", "no"), Refusal.Problem("c", "nor this")),
            ),
            refusal,
        )
        assertEquals(ErrorReason.ERROR_REASON_TOO_MANY, refusal.knownReason)
    }

    @Test
    fun `a reason of a newer server is told and not known`() {
        val refusal = refusal(because("OUT_OF_CHALK"))
        assertEquals("OUT_OF_CHALK", refusal.reason)
        assertEquals(ErrorReason.ERROR_REASON_UNSPECIFIED, refusal.knownReason)
    }

    @Test
    fun `the reason of a proxy is not ours`() {
        assertEquals(plain, refusal(because("TOO_MANY", by = "proxy.example")))
    }

    @Test
    fun `a detail of a newer server is passed over`() {
        assertEquals(plain, refusal("google.rpc.SomethingNew" to badRequest {}))
    }

    @Test
    fun `the code still holds without details, and with garbled ones`() {
        assertEquals(plain, Refusal.of(StatusException(Status.RESOURCE_EXHAUSTED.withDescription("full"))))
        assertEquals(plain, garbled(ByteString.copyFromUtf8("not a message")))
    }

    private fun told(remedy: String) = Refusal(Status.Code.RESOURCE_EXHAUSTED, "full", "OUT_OF_CHALK", mapOf("remedy" to remedy)).remedy

    @Test
    fun `the remedy is the server's, of a reason that is not known too`() {
        assertEquals(Remedy.REMEDY_SEND_AGAIN, told("SEND_AGAIN"))
        assertEquals(Remedy.REMEDY_MEND_FIRST, told("MEND_FIRST"))
        assertEquals(Remedy.REMEDY_ASK_A_PERSON, told("WAIT_FOR_SPRING"))
    }

    @Test
    fun `without a server's word what was not answered is sent again`() {
        val again = setOf(Status.Code.UNAVAILABLE, Status.Code.DEADLINE_EXCEEDED, Status.Code.CANCELLED)
        for (code in Status.Code.values()) {
            val want = if (code in again) Remedy.REMEDY_SEND_AGAIN else Remedy.REMEDY_ASK_A_PERSON
            assertEquals(want, Refusal(code, "").remedy, code.name)
        }
    }

    @Test
    fun `the cause is kept when no server was reached`() {
        val cause = IOException("no route to host")
        assertEquals(cause, Refusal.of(StatusException(Status.UNAVAILABLE.withCause(cause))).cause)
    }

    @Test
    fun `waits grow, up to five minutes, and heed the server`() {
        assertEquals(listOf(10, 20, 40, 80, 160, 300, 300).map { it.seconds }, (1..7).map(plain::waitBefore))
        assertEquals(5.minutes, plain.waitBefore(Int.MAX_VALUE))
        assertEquals(7.minutes, plain.copy(retryAfter = 7.minutes).waitBefore(1))
        assertFailsWith<IllegalArgumentException> { plain.waitBefore(0) }
    }
}
