package dev.gaugebook.client

import com.google.protobuf.GeneratedMessageLite
import dev.gaugebook.v1.Finding
import dev.gaugebook.v1.Urgency
import java.io.File
import kotlin.test.Test
import kotlin.test.assertContentEquals
import kotlin.test.assertEquals
import kotlin.test.assertTrue
import org.junit.jupiter.api.DynamicTest
import org.junit.jupiter.api.DynamicTest.dynamicTest
import org.junit.jupiter.api.TestFactory

/** Every golden message of the contract, read and written as this client does. */
class GoldenTest {
    @TestFactory
    fun `read, nothing unknown, and written anew the same`(): List<DynamicTest> = golden.map { (name, bytes) ->
        dynamicTest(name) {
            val message = parserOf(name.substringBefore('.')).parseFrom(bytes)
            assertEquals(emptyList(), withUnknownFields(message as GeneratedMessageLite<*, *>))
            assertContentEquals(bytes, message.toByteArray())
            if ('.' in name) {
                assertEquals(true, message.javaClass.getMethod("has" + camel(name.substringAfter('.'))).invoke(message))
            }
        }
    }

    @Test
    fun `every message of the contract has golden bytes`() {
        val messages = File(classes, "dev/gaugebook/v1").listFiles().orEmpty()
            .map { it.name.removeSuffix(".class") }
            .filter { '$' !in it && GeneratedMessageLite::class.java.isAssignableFrom(Class.forName("dev.gaugebook.v1.$it")) }
        assertTrue(messages.size > 100, "${messages.size} messages")
        assertEquals(messages.sorted(), golden.keys.filter { '.' !in it }.sorted())
    }

    @Test
    fun `what a newer server adds is read, and kept when written anew`() {
        val known = golden.getValue("Finding")
        val later = byteArrayOf(
            0x18, 99, // urgency, field 3: a value that this client has no name for
            0xc2.toByte(), 0x3e, 1, 'x'.code.toByte(), // field 1000
        )
        val finding = Finding.parseFrom(known + later)
        assertEquals(Urgency.UNRECOGNIZED, finding.urgency)
        assertEquals(99, finding.urgencyValue)
        assertEquals(listOf("Finding"), withUnknownFields(finding))

        val urgency = Finding.parseFrom(known).toBuilder().setUrgencyValue(99).build()
        assertContentEquals(urgency.toByteArray() + later.drop(2), finding.toByteArray())
    }
}

/** As protobuf names accessors: `thirty_seconds_inch` gives `ThirtySecondsInch`. */
private fun camel(field: String) = field.split('_').joinToString("") { it.replaceFirstChar(Char::uppercase) }
