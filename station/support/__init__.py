"""The bundle for somebody who helps: what may be told of a station, and nothing that is secret or personal."""
