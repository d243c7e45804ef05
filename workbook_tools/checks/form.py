"""The figures of the Record of Equipment beside the rule's and the carried (SH codes from 30 on)."""
