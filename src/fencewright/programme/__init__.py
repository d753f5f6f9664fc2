"""The programme of works: activities, their network, the calendar, and who does what when."""
