package dev.gaugebook.client

import java.io.File
import java.nio.file.Files
import java.util.concurrent.TimeUnit

/** The server itself, at ports that were free, with its book in a folder that goes with it. */
internal class RealServer : AutoCloseable {
    private val folder: File = Files.createTempDirectory("gaugebook-").toFile()
    private val process: Process
    val port: Int

    init {
        val program = checkNotNull(System.getenv("GAUGEBOOK")) { "GAUGEBOOK is not set to the server's program; make android sets it" }
        val access = File(folder, "access.yaml")
        access.writeText(
            """
            tokens:
              - {token: $BENCH, name: bench phone, role: bench, shops: [$SHOP]}
              - {token: $COUNTER, name: front counter, role: counter, shops: [$SHOP]}
            """.trimIndent(),
        )
        process = ProcessBuilder(
            program, "serve", "--store", "$folder/book", "--new", "--access", "$access", "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0",
        ).redirectError(File(folder, "log")).start()
        val greeting = process.inputStream.bufferedReader().readLine()
        port = checkNotNull(greeting?.let { Regex("""gRPC on 127\.0\.0\.1:(\d+),""").find(it) }) {
            close()
            "the server said: $greeting"
        }.groupValues[1].toInt()
    }

    override fun close() {
        process.destroy()
        if (!process.waitFor(10, TimeUnit.SECONDS)) process.destroyForcibly()
        folder.deleteRecursively()
    }

    companion object {
        const val SHOP = "test"
        const val BENCH = "bench-token-of-this-test"
        const val COUNTER = "counter-token-of-this-test"
    }
}
