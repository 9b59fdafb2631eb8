-- Where a batch lies or lay, by the code its crew knows the bay by.
CREATE VIEW bay_stay_named AS
  SELECT stay.*, bay.code AS bay_code FROM bay_stay stay JOIN bay ON bay.id = stay.bay_id;
