package dev.gaugebook.client

import java.io.File
import java.util.jar.JarFile
import org.objectweb.asm.ClassReader
import org.objectweb.asm.ClassVisitor
import org.objectweb.asm.Handle
import org.objectweb.asm.MethodVisitor
import org.objectweb.asm.Opcodes

/**
 * Prints what an app gets with this client, before anything shrinks it: for our
 * jar and each that it needs, its size, its classes, and the methods that it
 * declares or calls. Those are what one dex file holds 65536 of at most (Dalvik
 * executable format, `method_idx`). What desugaring adds is not counted.
 *
 * @param args our jar; a file with the class path of what it needs.
 */
fun main(args: Array<String>) {
    val (ours, classPath) = args
    val jars = listOf(File(ours)) + File(classPath).readText().trim().split(File.pathSeparator).map(::File)
    val counts = jars.map(::count).sortedByDescending { it.bytes }
    println("      KiB  classes  methods  jar")
    counts.forEach(::println)
    println(counts.fold(Count("together, a method of several jars once"), Count::plus))
}

/** A method of the dex format: its class, name and type. */
private typealias Method = Triple<String, String, String>

internal class Count(val what: String, val bytes: Long = 0, val classes: Int = 0, val methods: Set<Method> = emptySet()) {
    operator fun plus(other: Count) =
        Count(what, bytes + other.bytes, classes + other.classes, methods + other.methods)

    override fun toString() = "%9d  %7d  %7d  %s".format((bytes + 512) / 1024, classes, methods.size, what)
}

internal fun count(jar: File): Count = JarFile(jar).use { opened ->
    val classes = opened.entries().asSequence().filter { it.name.endsWith(".class") && reachesPhones(it.name) }.toList()
    val methods = classes.flatMap { entry -> opened.getInputStream(entry).use { methodsOf(it.readBytes()) } }
    Count(jar.name, jar.length(), classes.size, methods.toSet())
}

/** Classes for newer Java only, and of Java's modules, are left out of an app. */
private fun reachesPhones(entry: String) = !entry.startsWith("META-INF/") && !entry.endsWith("module-info.class")

internal fun methodsOf(classFile: ByteArray): Set<Method> {
    val methods = mutableSetOf<Method>()
    val reader = ClassReader(classFile)
    val calls = object : MethodVisitor(Opcodes.ASM9) {
        override fun visitMethodInsn(opcode: Int, owner: String, name: String, type: String, isInterface: Boolean) {
            methods += Method(owner, name, type)
        }

        // A lambda becomes a class that calls its body; the rest of it is desugared away.
        override fun visitInvokeDynamicInsn(name: String, type: String, bootstrap: Handle, vararg arguments: Any) {
            arguments.filterIsInstance<Handle>().forEach { methods += Method(it.owner, it.name, it.desc) }
        }
    }
    val declared = object : ClassVisitor(Opcodes.ASM9) {
        override fun visitMethod(access: Int, name: String, type: String, signature: String?, throws: Array<out String>?): MethodVisitor {
            methods += Method(reader.className, name, type)
            return calls
        }
    }
    reader.accept(declared, ClassReader.SKIP_DEBUG or ClassReader.SKIP_FRAMES)
    return methods
}
