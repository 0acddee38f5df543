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
import io.grpc.Metadata
import io.grpc.Status
import io.grpc.StatusException
import kotlin.test.Test
import kotlin.test.assertEquals
import kotlin.time.Duration.Companion.milliseconds

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
}
