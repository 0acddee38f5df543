package dev.gaugebook.client

import com.google.gson.Gson
import io.grpc.CallOptions
import io.grpc.Channel
import io.grpc.ClientCall
import io.grpc.ClientInterceptor
import io.grpc.ForwardingClientCall.SimpleForwardingClientCall
import io.grpc.ManagedChannel
import io.grpc.Metadata
import io.grpc.MethodDescriptor
import io.grpc.okhttp.OkHttpChannelBuilder
import java.util.concurrent.TimeUnit

/**
 * Opens a channel to the Gaugebook at [host] and [port]; the coroutine stubs of
 * `dev.gaugebook.v1` make calls on it.
 *
 * Each call carries the deadline of the contract's `service_config.json`, and is
 * sent again as it says there: only when it is safe to repeat, and only on
 * `UNAVAILABLE`. A call without a deadline there follows a stream; what keeps it
 * honest is the ping, every 90 s while a call is open, to which a dead connection
 * gives no answer.
 *
 * A phone that slept or changed networks may hold a connection that looks alive
 * and is not. When the app comes to the foreground, and when the network changes,
 * call [ManagedChannel.enterIdle]: the next call then connects anew.
 *
 * Make one channel and keep it; [ManagedChannel.shutdown] ends it.
 *
 * @param token gives the bearer token of each call, so that it may change.
 * @param encrypted false only for a server on this machine, as in a test.
 */
public fun openChannel(host: String, port: Int, encrypted: Boolean = true, token: () -> String): ManagedChannel {
    val builder = OkHttpChannelBuilder.forAddress(host, port)
        .disableServiceConfigLookUp() // the contract decides, not the network's DNS
        .defaultServiceConfig(serviceConfig)
        .keepAliveTime(KEEPALIVE_SECONDS, TimeUnit.SECONDS)
        .intercept(Bearer(token))
    if (!encrypted) builder.usePlaintext()
    return builder.build()
}

/** The server refuses pings more often than once a minute (`GetServer` tells). */
private const val KEEPALIVE_SECONDS = 90L

/** The contract's retries and deadlines, as its file has them. */
internal val serviceConfig: Map<String, *> by lazy {
    val file = checkNotNull(Bearer::class.java.getResourceAsStream("/gaugebook/v1/service_config.json")) {
        "service_config.json is missing: were the jar's resources left out of the app?"
    }
    @Suppress("UNCHECKED_CAST") // a JSON object has names for keys
    file.reader().use { Gson().fromJson(it, Map::class.java) as Map<String, *> }
}

/** Puts the caller's token on each call. */
private class Bearer(private val token: () -> String) : ClientInterceptor {
    override fun <Q, A> interceptCall(method: MethodDescriptor<Q, A>, options: CallOptions, next: Channel): ClientCall<Q, A> =
        object : SimpleForwardingClientCall<Q, A>(next.newCall(method, options)) {
            override fun start(listener: Listener<A>, headers: Metadata) {
                headers.put(AUTHORIZATION, "Bearer ${token()}")
                super.start(listener, headers)
            }
        }

    private companion object {
        val AUTHORIZATION: Metadata.Key<String> = Metadata.Key.of("authorization", Metadata.ASCII_STRING_MARSHALLER)
    }
}
