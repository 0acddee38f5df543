package dev.gaugebook.client

import com.google.protobuf.GeneratedMessageLite
import com.google.protobuf.MessageLite
import com.google.protobuf.Parser
import com.google.protobuf.UnknownFieldSetLite
import dev.gaugebook.v1.CalculatorServiceGrpc
import dev.gaugebook.v1.CounterServiceGrpc
import dev.gaugebook.v1.InspectionServiceGrpc
import dev.gaugebook.v1.OutboxServiceGrpc
import dev.gaugebook.v1.PhotoServiceGrpc
import dev.gaugebook.v1.ShopServiceGrpc
import dev.gaugebook.v1.TireServiceGrpc
import dev.gaugebook.v1.VehicleServiceGrpc
import io.grpc.MethodDescriptor
import java.io.File

/** The repository, and what Maven makes of this client. */
internal val root = File(System.getProperty("gaugebook.root"))
internal val classes = File(System.getProperty("gaugebook.build"), "classes")

/** Golden bytes by name: that of the message, then that of a field of a oneof that is set. */
internal val golden: Map<String, ByteArray> =
    File(root, "testdata/contract/golden").listFiles().orEmpty().associate { it.name.removeSuffix(".binpb") to it.readBytes() }

/** Every call of the contract. */
internal val calls: List<MethodDescriptor<*, *>> = listOf(
    CalculatorServiceGrpc.getServiceDescriptor(), CounterServiceGrpc.getServiceDescriptor(),
    InspectionServiceGrpc.getServiceDescriptor(), OutboxServiceGrpc.getServiceDescriptor(),
    PhotoServiceGrpc.getServiceDescriptor(), ShopServiceGrpc.getServiceDescriptor(),
    TireServiceGrpc.getServiceDescriptor(), VehicleServiceGrpc.getServiceDescriptor(),
).flatMap { it.methods }

/** The reader of a message of the contract; lite has no registry to ask. */
@Suppress("UNCHECKED_CAST")
internal fun parserOf(message: String): Parser<MessageLite> =
    Class.forName("dev.gaugebook.v1.$message").getMethod("parser").invoke(null) as Parser<MessageLite>

/** The messages in [message], itself among them, that hold fields which this client does not know. */
internal fun withUnknownFields(message: GeneratedMessageLite<*, *>): List<String> {
    val unknown = GeneratedMessageLite::class.java.getDeclaredField("unknownFields").apply { isAccessible = true }
    val own = if (unknown[message] == UnknownFieldSetLite.getDefaultInstance()) emptyList() else listOf(message.javaClass.simpleName)
    val parts = message.javaClass.declaredFields.filter { it.name.endsWith("_") }.map { it.apply { isAccessible = true }[message] }
    val within = parts.flatMap { it as? List<*> ?: listOf(it) }.filterIsInstance<GeneratedMessageLite<*, *>>()
    return own + within.flatMap(::withUnknownFields)
}
