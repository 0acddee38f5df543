package dev.gaugebook.client

import io.grpc.Context
import io.grpc.Deadline
import io.grpc.HandlerRegistry
import io.grpc.InsecureServerCredentials
import io.grpc.Metadata
import io.grpc.MethodDescriptor
import io.grpc.MethodDescriptor.MethodType
import io.grpc.Server
import io.grpc.ServerCall
import io.grpc.ServerCallHandler
import io.grpc.ServerMethodDefinition
import io.grpc.Status
import io.grpc.okhttp.OkHttpServerBuilder
import java.io.ByteArrayInputStream
import java.io.InputStream
import java.net.InetAddress
import java.net.InetSocketAddress
import java.util.Collections

/**
 * A server on this machine that takes every call, remembers it, and ends it as told.
 *
 * @param answer gives the status of the attempt counted from 1 at a method, or null
 *   for no answer at all. With `OK` goes one message, [message].
 */
internal class FakeServer(
    private val message: ByteArray = ByteArray(0),
    private val answer: (attempt: Int, method: String) -> Status?,
) : AutoCloseable {
    class Attempt(val method: String, val token: String?, val deadline: Deadline?)

    private val taken: MutableList<Attempt> = Collections.synchronizedList(mutableListOf())
    private val server: Server = OkHttpServerBuilder
        .forPort(InetSocketAddress(InetAddress.getLoopbackAddress(), 0), InsecureServerCredentials.create())
        .fallbackHandlerRegistry(Everything())
        .build().start()

    val port: Int get() = server.port

    fun attempts(method: String? = null): List<Attempt> =
        synchronized(taken) { taken.filter { method == null || it.method == method } }

    override fun close() {
        server.shutdownNow()
    }

    private inner class Everything : HandlerRegistry() {
        override fun lookupMethod(name: String, authority: String?): ServerMethodDefinition<ByteArray, ByteArray> =
            ServerMethodDefinition.create(descriptor(name, MethodType.UNKNOWN), Handler())
    }

    private inner class Handler : ServerCallHandler<ByteArray, ByteArray> {
        override fun startCall(call: ServerCall<ByteArray, ByteArray>, headers: Metadata): ServerCall.Listener<ByteArray> {
            val method = call.methodDescriptor.fullMethodName
            taken += Attempt(method, headers[AUTHORIZATION], Context.current().deadline)
            val status = answer(attempts(method).size, method)
            if (status != null) {
                if (status.isOk) {
                    call.request(1)
                    call.sendHeaders(Metadata())
                    call.sendMessage(message)
                }
                call.close(status, Metadata())
            }
            return object : ServerCall.Listener<ByteArray>() {}
        }
    }
}

internal val AUTHORIZATION: Metadata.Key<String> = Metadata.Key.of("authorization", Metadata.ASCII_STRING_MARSHALLER)

/** The method [name], whatever its messages are. */
internal fun descriptor(name: String, type: MethodType): MethodDescriptor<ByteArray, ByteArray> =
    MethodDescriptor.newBuilder(Bytes, Bytes).setFullMethodName(name).setType(type).build()

private object Bytes : MethodDescriptor.Marshaller<ByteArray> {
    override fun stream(value: ByteArray): InputStream = ByteArrayInputStream(value)
    override fun parse(stream: InputStream): ByteArray = stream.readBytes()
}
