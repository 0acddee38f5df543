package dev.gaugebook.client

import com.google.protobuf.GeneratedMessageLite
import java.io.File
import kotlin.test.Test
import kotlin.test.assertContains
import kotlin.test.assertContentEquals
import kotlin.test.assertEquals
import kotlin.test.assertFailsWith
import kotlin.test.assertNotNull

/** What an app gets beside our own classes. */
class JarTest {
    @Test
    fun `lite alone is on the class path`() {
        for (full in listOf("Descriptors", "Message", "GeneratedMessage", "util.JsonFormat")) {
            assertFailsWith<ClassNotFoundException>(full) { Class.forName("com.google.protobuf.$full") }
        }
    }

    /** Without them a shrunk app cannot find the fields of a message. */
    @Test
    fun `rules for shrinking lie where Android tools look for them, and are of lite`() {
        val rules = File(classes, "META-INF/proguard/gaugebook.pro").readText()
        assertContains(rules, "-keepclassmembers class * extends ${GeneratedMessageLite::class.java.name} {\n  <fields>;\n}")
    }

    @Test
    fun `the service config is the contract's`() {
        val shipped = assertNotNull(JarTest::class.java.getResourceAsStream("/gaugebook/v1/service_config.json"))
        assertContentEquals(File(root, "proto/gaugebook/v1/service_config.json").readBytes(), shipped.readBytes())
    }

    @Test
    fun `methods are counted once, declared or called`() {
        val classFile = assertNotNull(JarTest::class.java.getResourceAsStream("Counted.class")).readBytes()
        val counted = methodsOf(classFile).map { (owner, name, _) -> "${owner.substringAfterLast('/')}.$name" }
        assertEquals(listOf("Counted.<init>", "Counted.twice", "Object.<init>", "Math.abs").sorted(), counted.sorted())
    }
}

/** Declares a constructor and a method, calls another constructor, and one method twice. */
internal class Counted {
    fun twice(number: Int) = Math.abs(number) + Math.abs(-number)
}
