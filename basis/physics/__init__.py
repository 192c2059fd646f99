"""What several chapters share: pipe friction, network algebra, hourly weather; and the tables that more than one of them reads."""
