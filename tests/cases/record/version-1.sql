-- A record as version 1 of the format left it: two versions of one practice, one submission set aside.
PRAGMA journal_mode = WAL;
PRAGMA application_id = 1129465155;
CREATE TABLE submission (
    number INTEGER PRIMARY KEY,
    client TEXT NOT NULL UNIQUE,
    practice TEXT NOT NULL,
    version INTEGER CHECK (version >= 1),
    over INTEGER NOT NULL CHECK (over >= 0),
    saved TEXT NOT NULL,
    entry TEXT NOT NULL,
    UNIQUE (practice, version)
);
CREATE TRIGGER submission_stays BEFORE DELETE ON submission
    BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
CREATE TRIGGER submission_stands BEFORE UPDATE ON submission
    BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END;
INSERT INTO submission (client, practice, version, over, saved, entry) VALUES
('coach-0001', '2027-01-13-north-gym-1730', 1, 0, '2027-01-13T20:00:00+00:00', '{"client":"coach-0001","practice":"2027-01-13-north-gym-1730","date":"2027-01-13","start":"17:30:00","venue":"north-gym","minutes":75,"status":"held","reason":null,"minutes_held":null,"blocks":[{"skill":"chest-pass","stage":"unopposed","kind":"introduce","number":1,"of":2,"minutes":8,"held":"held","went":"shaky","planned":true}],"absent":["Aoife"],"note":"","by":null}'),
('coach-0002', '2027-01-13-north-gym-1730', NULL, 0, '2027-01-13T20:05:00+00:00', '{"client":"coach-0002","practice":"2027-01-13-north-gym-1730","date":"2027-01-13","start":"17:30:00","venue":"north-gym","minutes":75,"status":"held","reason":null,"minutes_held":null,"blocks":[],"absent":[],"note":"","by":null}'),
('coach-0003', '2027-01-13-north-gym-1730', 2, 1, '2027-01-14T09:00:00+00:00', '{"client":"coach-0003","practice":"2027-01-13-north-gym-1730","date":"2027-01-13","start":"17:30:00","venue":"north-gym","minutes":75,"status":"lost","reason":"the hall was flooded","minutes_held":null,"blocks":[{"skill":"chest-pass","stage":"unopposed","kind":"introduce","number":1,"of":2,"minutes":8,"held":"not held","went":null,"planned":true}],"absent":[],"note":"","by":null}');
PRAGMA user_version = 1;
