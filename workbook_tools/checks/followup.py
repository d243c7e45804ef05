"""What is being done about a finding (WB codes from 30 on)."""
