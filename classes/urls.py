from django.urls import path

from classes.views import amounts, bench, hours, kitchens, sessions

app_name = "classes"
urlpatterns = [
    path("classes/", sessions.class_list, name="list"),
    path("classes/new/", sessions.class_new, name="new"),
    path("classes/verdict/", hours.verdict, name="verdict"),
    path("classes/<slug:code>/", sessions.class_detail, name="detail"),
    path("classes/<slug:code>/edit/", sessions.class_edit, name="edit"),
    path("classes/<slug:code>/hours/", hours.hours, name="hours"),
    path("classes/<slug:code>/hours/settings/", hours.hours_settings, name="hours_settings"),
    path("classes/<slug:code>/hours/what-if/", hours.what_if, name="what_if"),
    path("classes/<slug:code>/roster/", sessions.roster, name="roster"),
    path("classes/<slug:code>/roster/<int:pk>/new-link/", sessions.new_link, name="new_link"),
    path("classes/<slug:code>/amounts/", amounts.amounts, name="amounts"),
    path("classes/<slug:code>/amounts.json", amounts.amounts_json, name="amounts_json"),
    path("classes/<slug:code>/amounts.csv", amounts.amounts_csv_file, name="amounts_csv"),
    path("classes/<slug:code>/preparation/", amounts.prepare, name="prepare"),
    path("recipes/<slug:slug>/water/", bench.water, name="water"),
    path("recipes/<slug:slug>/rise/", bench.rise, name="rise"),
    path("kitchens/", kitchens.kitchen_list, name="kitchens"),
    path("kitchens/new/", kitchens.kitchen_new, name="kitchen_new"),
    path("kitchens/<int:pk>/", kitchens.kitchen_edit, name="kitchen"),
    path("kitchens/<int:pk>/pantry/", kitchens.pantry, name="pantry"),
]
