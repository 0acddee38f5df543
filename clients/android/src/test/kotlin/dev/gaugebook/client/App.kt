package dev.gaugebook.client

import dev.gaugebook.v1.Finding
import dev.gaugebook.v1.Said

/** The findings that this example of an app has something of its own to say of. */
private val titles = mapOf("tread.worn-to-bars" to "Worn out")

/**
 * How an app shows a finding: under its own title where it knows the code, in the
 * words that came with it where not; with the caution in either case.
 */
internal fun shown(finding: Finding, cautions: List<Said>): String {
    val what = titles[finding.code] ?: finding.forTechnician
    val caution = cautions.find { it.code == finding.caution }?.words.orEmpty()
    return "${finding.positionsList.joinToString(", ")}: $what $caution".trim()
}
