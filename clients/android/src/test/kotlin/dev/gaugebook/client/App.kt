package dev.gaugebook.client

import dev.gaugebook.v1.Finding

/** The findings that this example of an app has something of its own to say of. */
private val titles = mapOf("tread.worn-to-bars" to "Worn out")

/**
 * How an app shows a finding: under its own title where it knows the code, in the
 * words that came with it where not; with the caution in either case.
 */
internal fun shown(finding: Finding): String {
    val what = titles[finding.code] ?: finding.forTechnician
    return "${finding.positionsList.joinToString(", ")}: $what ${finding.caution}".trim()
}
