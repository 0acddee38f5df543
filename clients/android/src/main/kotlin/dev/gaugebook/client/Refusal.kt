package dev.gaugebook.client

import com.google.protobuf.Any
import com.google.protobuf.InvalidProtocolBufferException
import com.google.rpc.BadRequest
import com.google.rpc.ErrorInfo
import com.google.rpc.RetryInfo
import dev.gaugebook.v1.ErrorReason
import dev.gaugebook.v1.Remedy
import io.grpc.Metadata
import io.grpc.Status
import io.grpc.StatusException
import kotlin.time.Duration
import kotlin.time.Duration.Companion.minutes
import kotlin.time.Duration.Companion.nanoseconds
import kotlin.time.Duration.Companion.seconds
import com.google.rpc.Status as RichStatus

/**
 * Why a call was refused, in plain types.
 *
 *     try {
 *         inspections.recordInspection(request)
 *     } catch (e: StatusException) {
 *         val refusal = Refusal.of(e)
 *         refusal.problems.forEach { showBeside(it.path, it.words) }
 *     }
 *
 * @property code what any gRPC client goes by.
 * @property message in English, for a log.
 * @property reason of [ErrorReason], without its prefix: "ID_TAKEN". Grows; empty when the
 *   refusal comes from elsewhere, as when no server was reached.
 * @property about what the reason is about, as [ErrorReason] documents: "id", "revision",
 *   and "remedy", see [remedy].
 * @property problems every field that cannot be.
 * @property retryAfter when sending again helps: not sooner than this.
 * @property cause what kept the call from reaching a server; null when one answered.
 */
public data class Refusal(
    val code: Status.Code,
    val message: String,
    val reason: String = "",
    val about: Map<String, String> = emptyMap(),
    val problems: List<Problem> = emptyList(),
    val retryAfter: Duration? = null,
    val cause: Throwable? = null,
) {
    /**
     * One field that cannot be.
     *
     * @property path in JSON names: "inspection.wheels[0].position".
     * @property words what is wrong and what would be right.
     */
    public data class Problem(val path: String, val words: String)

    /** The [reason], or `ERROR_REASON_UNSPECIFIED` when it is newer than this client or there is none. */
    val knownReason: ErrorReason
        get() = ErrorReason.values().find { it.name == "ERROR_REASON_$reason" } ?: ErrorReason.ERROR_REASON_UNSPECIFIED

    /**
     * What to do about it: send the same again, mend it first, or ask a person. The server
     * says so; where none did, what was not answered in time or at all is sent again.
     */
    val remedy: Remedy
        get() = Remedy.values().find { it.name == "REMEDY_${about["remedy"]}" } ?: when (code) {
            Status.Code.UNAVAILABLE, Status.Code.DEADLINE_EXCEEDED, Status.Code.CANCELLED -> Remedy.REMEDY_SEND_AGAIN
            else -> Remedy.REMEDY_ASK_A_PERSON
        }

    /**
     * How long to wait before the same is sent for the [attempt]-th time again, from 1 on:
     * twice as long each time, 5 minutes at most, and as long as the server asked for. Each
     * time is longer than the channel went on trying by itself before the call failed.
     */
    public fun waitBefore(attempt: Int): Duration {
        require(attempt >= 1) { "attempts are counted from 1" }
        val own = minOf(FIRST_WAIT * (1 shl minOf(attempt - 1, 10)), LONGEST_WAIT)
        return maxOf(own, retryAfter ?: Duration.ZERO)
    }

    public companion object {
        private val FIRST_WAIT = 10.seconds
        private val LONGEST_WAIT = 5.minutes

        /** Reads what the server said with the status of a failed call. */
        @JvmStatic
        public fun of(failed: StatusException): Refusal {
            val plain = Refusal(failed.status.code, failed.status.description.orEmpty(), cause = failed.status.cause)
            return try {
                details(failed).fold(plain, ::add)
            } catch (_: InvalidProtocolBufferException) {
                plain // garbled on the way: the code still holds
            }
        }
    }
}

private const val DOMAIN = "gaugebook"

private val DETAILS: Metadata.Key<ByteArray> = Metadata.Key.of("grpc-status-details-bin", Metadata.BINARY_BYTE_MARSHALLER)

private fun details(failed: StatusException) =
    failed.trailers?.get(DETAILS)?.let { RichStatus.parseFrom(it).detailsList }.orEmpty()

/** Lite has no registry of types: a type is known by the end of its URL. Others are passed over. */
private fun add(refusal: Refusal, detail: Any): Refusal = when (detail.typeUrl.substringAfterLast('/')) {
    "google.rpc.ErrorInfo" -> refusal.with(ErrorInfo.parseFrom(detail.value))
    "google.rpc.BadRequest" -> refusal.copy(problems = refusal.problems + problems(BadRequest.parseFrom(detail.value)))
    "google.rpc.RetryInfo" -> refusal.copy(retryAfter = retryAfter(RetryInfo.parseFrom(detail.value)))
    else -> refusal
}

/** Something between phone and server may have reasons of its own: those are not ours. */
private fun Refusal.with(info: ErrorInfo) =
    if (info.domain == DOMAIN) copy(reason = info.reason, about = info.metadataMap.toMap()) else this

private fun problems(bad: BadRequest) = bad.fieldViolationsList.map { Refusal.Problem(it.field, it.description) }

private fun retryAfter(info: RetryInfo) = with(info.retryDelay) { seconds.seconds + nanos.nanoseconds }
